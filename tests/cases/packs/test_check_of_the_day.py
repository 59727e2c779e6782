"""Held, plugged, whole: full texts, each answer of the check, what is missing, and the day that it counts on."""

import pytest
from making.manifests import answer, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.errors import NotRead
from preflint.testing import computed, inspect_text, marked

HELD, PLUG, SWOLLEN = "packs/held", "packs/plug", "packs/swollen"
GOOD = {
    "rocks_on_flat": "false", "straps": "2", "latched": "true", "tug_moved": "false", "plug_tug_moved": "false",
    "leads_clear": "true",
}  # fmt: skip
PACK = "packs: [{label: A1, mass_g: 600}]\n"


def check(date="2026-05-21 09:00", pack="A1", without=(), **seen):
    said = {**GOOD, **{name: str(value).lower() for name, value in seen.items()}}
    lines = ", ".join(f"{name}: {value}" for name, value in said.items() if name not in without)
    return f"date: {date}, pack: {pack}, {lines}"


def checked(*checks, packs=PACK, log=()):
    return manifest(packs, records={"pack_check": checks}, logbook=log)


def test_a_pack_that_moves_in_full():
    text = checked(check(tug_moved=True))
    found = expect(Finding, answer(text, HELD, "A1"))
    assert found.message == "the pack moved when tugged"
    assert found.evidence == (
        "pack check of 2026-05-21 09:00; a turn or a gust pulls at it with about 3.5 times its weight"
    )
    # 0.60 kg · 3.5 · 9.80665 m/s² = 20.6 N
    assert found.do == (
        "lay something that grips under the pack, add a strap across the first; tug at it with 21 N (2.1 kgf); write "
        "another pack_check"
    )
    assert marked(text, found.place) == "true"
    assert inspect_text(text).verdict == "no-go"


def test_a_swollen_pack_in_full():
    text = checked(check(rocks_on_flat=True))
    found = expect(Finding, answer(text, SWOLLEN, "A1"))
    assert found.message == "the pack does not lie flat: a cell has swollen"
    assert "neither fly nor charge this pack" in found.do
    assert "rocks by its shape alone" in found.do
    result = next(r for r in inspect_text(text).results if r.rule.id == SWOLLEN)
    assert "may burn" in result.precaution


@pytest.mark.parametrize(("rule", "seen", "message"), [
    (HELD, {"latched": False}, "the pack is not strapped tight or not latched"),
    (HELD, {"latched": False, "straps": 0}, "nothing holds the pack"),
    (PLUG, {"plug_tug_moved": True}, "the plug crept or came apart when tugged"),
    (PLUG, {"leads_clear": False}, "a lead reaches a prop or an edge, or is pinched"),
])
def test_what_grounds(rule, seen, message):
    text = checked(check(**seen))
    assert expect(Finding, answer(text, rule, "A1")).message == message
    assert inspect_text(text).verdict == "no-go"
    others = {HELD, PLUG, SWOLLEN} - {rule}
    assert all(isinstance(answer(text, other, "A1"), Clear) for other in others)


@pytest.mark.parametrize("rule", [HELD, PLUG, SWOLLEN])
def test_a_good_check_is_clear(rule):
    expect(Clear, answer(checked(check()), rule, "A1"))


def test_a_latch_or_a_tight_pocket_holds_a_pack_without_straps():
    for straps, by in ((0, "a latch or pocket"), (1, "1 strap"), (2, "2 straps")):
        told = expect(Clear, answer(checked(check(straps=straps)), HELD, "A1"))
        assert f"held by {by}, latched" in told.evidence


@pytest.mark.parametrize(("rule", "name"), [
    (HELD, "straps"), (HELD, "latched"), (HELD, "tug_moved"), (PLUG, "plug_tug_moved"), (PLUG, "leads_clear"),
    (SWOLLEN, "rocks_on_flat"),
])
def test_one_thing_not_looked_at(rule, name):
    told = expect(Unproven, answer(checked(check(without=[name])), rule, "A1"))
    assert told.message == f"{name} of the pack check of 2026-05-21 09:00 is not recorded"


def test_no_check_at_all():
    text = manifest(PACK)
    told = expect(Unproven, answer(text, HELD, "A1"))
    assert told.message == "no pack check is recorded"
    assert told.do == (
        "lay the pack on a flat table; strap it in and tug at it with 21 N (2.1 kgf); look at its leads; push its plug "
        "home and tug at that"
    )
    assert told.record == "pack_check"
    unlabelled = expect(Unproven, answer(manifest("packs: [{cells: 4}]\n"), HELD))
    assert unlabelled.message == "label of the pack is not recorded"


@pytest.mark.parametrize(("day", "clear"), [
    ("2026-05-20 23:59", False), ("2026-05-21", True), ("2026-05-21 00:00", True), ("2026-05-21 23:59", True),
    ("2026-05-22 00:00", False),
])
def test_it_counts_on_its_own_day(day, clear):
    told = answer(checked(check(day)), HELD, "A1")
    assert isinstance(told, Clear if clear else Unproven)


def test_yesterday_is_named():
    told = expect(Unproven, answer(checked(check("2026-05-20 18:00")), HELD, "A1"))
    assert (told.cause, told.message) == ("stale", "the pack check of 2026-05-20 18:00 counted on that day only")


def test_an_old_check_is_history_and_no_advice():
    told = inspect_text(checked(check("2026-05-10"), check()))
    assert not [r for r in told.results if r.rule.name in ("age", "stale-record") and isinstance(r.outcome, Finding)]
    old = inspect_text(checked(check("2026-05-10"), log=["date: 2026-05-12, kind: crashed"]))
    assert not [r for r in old.results if r.rule.name in ("age", "stale-record") and isinstance(r.outcome, Finding)]


def test_a_failed_one_stands_until_a_later_one_of_that_pack_passes():
    bad, later = check("2026-05-19", rocks_on_flat=True), check("2026-05-20 08:00")
    two = "packs: [{label: A1}, {label: A2}]\n"
    stands = expect(Finding, answer(checked(bad, check(pack="A2"), packs=two), SWOLLEN, "A1"))
    assert stands.evidence == "pack check of 2026-05-19"
    expect(Clear, answer(checked(bad, check(pack="A2"), packs=two), SWOLLEN, "A2"))
    # Passed on the day before: nothing failed any more, and nothing counts today.
    assert expect(Unproven, answer(checked(bad, later), SWOLLEN, "A1")).cause == "stale"
    expect(Clear, answer(checked(bad, check()), SWOLLEN, "A1"))


@pytest.mark.parametrize(("rule", "seen"), [
    (HELD, {"tug_moved": True}), (PLUG, {"leads_clear": False}), (SWOLLEN, {"rocks_on_flat": True}),
])
def test_a_failed_one_outlives_a_crash(rule, seen):
    text = checked(check("2026-05-18", **seen), log=["date: 2026-05-19, kind: crashed"])
    found = expect(Finding, answer(text, rule, "A1"))
    assert found.evidence.startswith("failed on 2026-05-18, and no pack check passed since; since then crashed on ")
    assert found.do.startswith("repeat the pack check; if it fails again: ")


def test_of_two_of_one_day_without_times_the_failed_one_counts():
    expect(Finding, answer(checked(check("2026-05-21"), check("2026-05-21", tug_moved=True)), HELD, "A1"))


def test_a_later_look_at_the_warmth_takes_nothing_away():
    warm = "date: 2026-05-21 12:00, pack: A1, temperature_c: 22"
    expect(Clear, answer(checked(check(), warm), HELD, "A1"))
    expect(Finding, answer(checked(check(tug_moved=True), warm), HELD, "A1"))


@pytest.mark.parametrize("work", [
    "kind: hard-landing", "kind: crashed", "kind: moved, part: battery-tray", "kind: rewired, part: pack",
    "kind: replaced, part: power-lead",
])
def test_work_and_mishaps_of_the_day_end_it(work):
    told = expect(Unproven, answer(checked(check(), log=[f"date: 2026-05-21 11:00, {work}"]), HELD, "A1"))
    assert told.cause == "stale"
    expect(Clear, answer(checked(check(), log=[f"date: 2026-05-21 08:00, {work}"]), HELD, "A1"))


@pytest.mark.parametrize("work", ["kind: flown", "kind: fitted, part: pack", "kind: replaced, part: prop"])
def test_a_flight_and_a_change_of_packs_end_nothing(work):
    expect(Clear, answer(checked(check(), log=[f"date: 2026-05-21 11:00, {work}"]), HELD, "A1"))


def test_a_check_of_a_pack_that_is_not_listed_is_refused():
    for packs in ("", "packs: [{cells: 4}]\n", PACK):
        with pytest.raises(NotRead, match='no pack is labelled "B7"'):
            inspect_text(checked(check(pack="B7"), packs=packs))


def test_figures_of_carriage_and_tug():
    """Wh = V·Ah: four cells of 3.7 V and 6 Ah are 88.8 Wh, as the label of such a pack says."""
    pack = "packs: [{label: A1, chemistry: lipo, cells: 4, capacity_mah: 6000, mass_g: 600}]\n"
    judged = inspect_text(manifest(pack))
    assert computed(judged, "pack_energy_wh", "by-label", "A1").value == pytest.approx(88.8)
    # 3.5 · 0.6 kg · 9.80665 m/s², worked by hand.
    assert computed(judged, "pack_tug_n", at="A1").value == pytest.approx(20.594, abs=0.001)
    assert not [one for one in inspect_text(manifest("packs: [{label: A1}]\n")).computed if "pack" in one.quantity]


# V a cell as labels give it, four cells and 6 Ah: 24 times as much.
@pytest.mark.parametrize(("chemistry", "watt_hours"), [("lipo-hv", 91.2), ("li-ion", 86.4), ("life", 76.8)])
def test_the_energy_of_other_packs(chemistry, watt_hours):
    judged = inspect_text(manifest(f"packs: [{{label: A1, chemistry: {chemistry}, cells: 4, capacity_mah: 6000}}]\n"))
    assert computed(judged, "pack_energy_wh", "by-label", "A1").value == pytest.approx(watt_hours)


def test_another_packs_failure_is_its_own():
    text = checked(check(), check(pack="A2", tug_moved=True), packs="packs: [{label: A1}, {label: A2}]\n")
    expect(Clear, answer(text, HELD, "A1"))
    expect(Finding, answer(text, HELD, "A2"))
    of_a1 = inspect_text(text, packs=["A1"])
    assert of_a1.verdict == "unproven"  # of the rest, which this manifest lacks
    told = {(r.rule.id, r.at): r.outcome for r in of_a1.results}
    assert told[HELD, "A2"] == NotApplicable("this pack is not flown today")
    assert inspect_text(text, packs=["A1", "A2"]).verdict == "no-go"
