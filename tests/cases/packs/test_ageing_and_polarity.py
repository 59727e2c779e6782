"""A pack that resists more than it did, and what was soldered: full texts, both sides, what is missing."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked

RESISTANCE, POLARITY = "packs/resistance", "packs/polarity"
LIPO = "packs: [{label: A1, chemistry: lipo, cells: 4}]\n"
# Scatter of some mV about the line, as a display of 10 mV gives; not of any program.
_NOISE = (0.004, -0.003, 0.002, -0.004, 0.003)


def run(milliohm, date, more="dwell_s: 10, temperature_c: 19", pack="A1"):
    amps, used = (0, 25, 50, 25, 1), (0, 70, 210, 280, 290)
    rows = [[i, round(16.0 - milliohm / 1000 * i - 0.0003 * q + e, 3), q]
            for i, q, e in zip(amps, used, _NOISE, strict=True)]
    return f"date: {date}, pack: {pack}, {more}, columns: [current_a, voltage_v, used_mah], rows: {rows}"


def runs(*taken, log=(), sections=LIPO):
    return manifest(sections, records={"sag_run": taken}, logbook=log)


def test_a_pack_that_aged_in_full():
    text = runs(run(15, "2025-09-16"), run(30, "2026-05-16"))
    found = expect(Finding, answer(text, RESISTANCE, "A1"))
    assert found.message == "the pack resists 2.0 times what it did on 2025-09-16"
    assert found.evidence == (
        "R 15.1 mΩ on 2025-09-16, 30.1 mΩ on 2026-05-16: +100 % ± 6 % (95 %), at most 50 %"
    )
    assert found.do.startswith("look at plug and solder joints for one that warms")
    assert inspect_text(text).verdict != "no-go"


@pytest.mark.parametrize(("milliohm", "kind"), [
    (4, Clear), (10, Clear), (15, Clear), (20, Clear), (22.5, Unproven), (26, Finding),
])
def test_both_sides_of_the_rise(milliohm, kind):
    assert isinstance(answer(runs(run(15, "2025-09-16"), run(milliohm, "2026-05-16")), RESISTANCE, "A1"), kind)


def test_the_doubt_of_two_rough_runs_in_full():
    """Worked by hand: two readings each at 0 and 20 A, 60 mV above and below the line of 20 mΩ.

    s² = 4·0.06²/2, and of R s²/Σ(I - 10 A)² = s²/400: 4.243 mΩ, 21.21 %. Of the ratio √2 times as much, 30.0 %, with
    2 + 2 degrees of freedom, where Student's t at 95 % is 2.776 (printed tables): 83.3 %.
    """
    rows = "rows: [[0, 16.06, 0], [0, 15.94, 0], [20, 15.66, 0], [20, 15.54, 0]]"
    rough = f"pack: A1, dwell_s: 10, temperature_c: 19, columns: [current_a, voltage_v, used_mah], {rows}"
    told = expect(Unproven, answer(runs(f"date: 2025-09-16, {rough}", f"date: 2026-05-16, {rough}"), RESISTANCE, "A1"))
    assert told.evidence == "R 20.0 mΩ on 2025-09-16, 20.0 mΩ on 2026-05-16: +0 % ± 83 % (95 %), at most 50 %"


@pytest.mark.parametrize(("first", "second", "message"), [
    ("dwell_s: 10", "dwell_s: 10, temperature_c: 19",
     "temperature_c of the sag run of 2025-09-16 is not recorded"),
    ("temperature_c: 19", "dwell_s: 10, temperature_c: 19", "dwell_s of the sag run of 2025-09-16 is not recorded"),
    ("dwell_s: 10, temperature_c: 19", "dwell_s: 10, temperature_c: 15",
     "the pack had 19 °C in the sag run of 2025-09-16 and 15 °C now: no resistances to compare"),
    ("dwell_s: 10, temperature_c: 19", "dwell_s: 20, temperature_c: 19",
     "each current was held for 10 s in the run of 2025-09-16, 20 s now: no resistances to compare"),
])
def test_runs_that_cannot_be_compared(first, second, message):
    text = runs(run(15, "2025-09-16", first), run(30, "2026-05-16", second))
    assert expect(Unproven, answer(text, RESISTANCE, "A1")).message == message


def test_the_pack_is_to_be_as_warm_as_it_was_then():
    text = runs(run(15, "2025-09-16"), run(30, "2026-05-16", "dwell_s: 10, temperature_c: 15"))
    assert expect(Unproven, answer(text, RESISTANCE, "A1")).do.endswith(", with the pack at about 19 °C")


@pytest.mark.parametrize("second", ["dwell_s: 15, temperature_c: 19", "dwell_s: 10, temperature_c: 16"])
def test_as_unlike_as_two_runs_may_be(second):
    expect(Finding, answer(runs(run(15, "2025-09-16"), run(30, "2026-05-16", second)), RESISTANCE, "A1"))


@pytest.mark.parametrize("text", [
    runs(), runs(run(15, "2025-09-16")), runs(run(15, "2025-09-16", pack="A1"), run(30, "2026-05-16", pack="A2"),
                                               sections="packs: [{label: A1}, {label: A2}]\n"),
    runs(run(15, "2025-09-16"), run(30, "2026-05-16"), log=["date: 2026-01-02, kind: replaced, part: power-lead"]),
    runs(run(15, "2025-09-16"), run(30, "2026-05-16"), sections=LIPO + "power_sensing: none\n"),
    runs(run(15, "2025-09-16"), run(-15, "2026-05-16")),  # volts that rise under load tell no resistance
])
def test_where_it_is_not_asked(text):
    expect(NotApplicable, answer(text, RESISTANCE, "A1"))


def test_a_winter_in_between_is_what_ages_it():
    text = runs(run(15, "2025-09-16"), run(30, "2026-05-16"), log=["date: 2025-10-02, kind: stored"])
    expect(Finding, answer(text, RESISTANCE, "A1"))


SOLDERED = ["date: 2026-05-18, kind: rewired, part: power-lead"]


def polarity(*checks, log=(), more=None):
    return manifest(records={"polarity_check": checks} | (more or {}), logbook=log)


@pytest.mark.parametrize(("said", "message", "mark"), [
    ("polarity_right: false, shorted: false", "plus and minus are exchanged, or one leads nowhere", "false"),
    ("polarity_right: true, shorted: true", "plus and minus are short", "true"),
])
def test_a_wrong_joint(said, message, mark):
    text = polarity(f"date: 2026-05-19, {said}")
    found = expect(Finding, answer(text, POLARITY))
    assert (found.message, marked(text, found.place)) == (message, mark)
    assert found.do == (
        "plug nothing in; take the joint apart, solder and insulate it anew; write another polarity_check"
    )
    assert inspect_text(text).verdict == "no-go"
    # Neither soldering nor a flight without a measurement shows it right.
    for log in (SOLDERED, [*SOLDERED, "date: 2026-05-19, kind: flown"]):
        expect(Finding, answer(polarity(f"date: 2026-05-17, {said}", log=log), POLARITY))
    later = polarity(f"date: 2026-05-19, {said}", "date: 2026-05-20, polarity_right: true, shorted: false")
    expect(Clear, answer(later, POLARITY))


def test_soldered_and_not_measured():
    told = expect(Unproven, answer(manifest(logbook=SOLDERED), POLARITY))
    assert told.message == "polarity was not measured since this: power lead rewired on 2026-05-18"
    assert told.do == (
        "with nothing plugged in, follow plus and minus from the pack's plug to the board with a meter, and measure "
        "between them for a short, before a pack is plugged in"
    )
    old = polarity("date: 2026-05-10, polarity_right: true, shorted: false", log=SOLDERED)
    assert expect(Unproven, answer(old, POLARITY)).cause == "stale"
    half = polarity("date: 2026-05-19, polarity_right: true", log=SOLDERED)
    assert expect(Unproven, answer(half, POLARITY)).message.startswith("shorted of the polarity check")


def test_measured_or_shown_by_the_pack_itself():
    expect(Clear, answer(polarity("date: 2026-05-19, polarity_right: true, shorted: false", log=SOLDERED), POLARITY))
    flown = expect(Clear, answer(manifest(logbook=[*SOLDERED, "date: 2026-05-19, kind: flown"]), POLARITY))
    assert flown.evidence == "the pack was in on 2026-05-19, after this: power lead rewired on 2026-05-18"
    cut = {"cut_off_test": "date: {}, props: removed, motors_stopped: true"}
    for day, kind in (("2026-05-19", Clear), ("2026-05-18", Unproven), ("2026-05-17", Unproven)):
        text = manifest(records={"cut_off_test": cut["cut_off_test"].format(day)}, logbook=SOLDERED)
        assert isinstance(answer(text, POLARITY), kind)


@pytest.mark.parametrize("log", [[], ["date: 2026-05-18, kind: moved, part: power-lead"],
                                 ["date: 2026-05-18, kind: replaced, part: motor, at: rear-left"]])
def test_without_soldering_nobody_asks(log):
    expect(NotApplicable, answer(manifest(logbook=log), POLARITY))
