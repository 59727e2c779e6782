"""The whole deviation of the compass: full texts and places, both sides of limit and aim, what is missing."""

import numpy as np
import pytest
from making.earth import directions
from making.manifests import MOTORS, SITE, answer, expect, opening

from preflint.api import FIELD_CHECK, Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked, outcome

TOTAL, AIM = "compass/total-deviation", "compass/total-deviation-aim"
ALL_ROUND = str([[45.0 * i, 45.0 * i + 1] for i in range(8)])
HOVER = "  hover: [{date: 2026-05-17, mean_current_a: 24}]\n"
# µT/A forward, right, down
MADE = (0.11, -0.23, 0.05)


def flown(errors=(1, 1, 1, 1), offset="[-0.11, 0.23, -0.05]", accuracy=1.0, hover=HOVER, motors=MOTORS, more=""):
    """Errors on headings evenly round the circle, where four are given on those between too, as hard iron makes them;
    the current makes what the offset takes away.
    """
    if len(errors) == 4:
        errors = [*errors, *between(*errors)]
        errors = [errors[i // 2 + 4 * (i % 2)] for i in range(8)]
    headings = [i * 360 / len(errors) for i in range(len(errors))]
    rows = [[h, round((h + e) % 360, 2)] for h, e in zip(headings, errors, strict=True)]
    return (
        f"{opening()}{SITE}{motors}"
        f"power_sensing: {{sensor_mv_per_a: 26.4}}\ncompass: {{interference_offset_ut_per_a: {offset}}}\nrecords:\n"
        f"  heading_check: [{{date: 2026-05-20, reference: {{accuracy_deg: {accuracy}}}, "
        f"columns: [true_deg, indicated_deg], rows: {rows}}}]\n" + run() + hover + more
    )


def between(north, east, south, west):
    """At 45°, 135°, 225° and 315° of a constant and one cycle a turn through those four errors."""
    mean, cosine, sine = (north + east + south + west) / 4, (north - south) / 2, (east - west) / 2
    return [round(mean + (a * cosine + b * sine) / 2**0.5, 2) for a, b in ((1, 1), (-1, 1), (-1, -1), (1, -1))]


def run(rows=None):
    rows = rows or [
        [a, *(round(c + b * a, 2) for c, b in zip((9.1, 24.4, 38.2), MADE, strict=True))]
        for a in (0.0, 8.1, 16.2, 24.1, 0.1)
    ]
    return (
        "  interference_run:\n    - date: 2026-05-16\n      route: restrained\n      field_is: raw\n"
        "      in_force: {sensor_mv_per_a: 26.4}\n      columns: [current_a, field_x_ut, field_y_ut, field_z_ut]\n"
        f"      rows: {rows}\n"
    )


def test_with_the_current_alike_in_full():
    text = flown((1, -6, -1, 6), "[-0.08, 0.23, -0.05]")
    found = expect(Finding, answer(text, TOTAL))
    assert found.message == (
        "at full throttle (84 A), level: compass 14.1° off at indicated 100°, more than 10°"
    )
    assert found.evidence == (
        "iron and current together: hover 24 A level 8.4° (6.7 to 10.0°); hover 24 A tilted 8.4° (6.7 to 10.0°); "
        "full 84 A level 14.1° (12.1 to 15.8°); full 84 A tilted 14.1° (12.1 to 15.8°); with the motors still up to "
        "6.1°; run of 2026-05-16: interference left over [0.0300, 0.0000, 0.0000] µT/A forward, right, down; "
        "heading check of 2026-05-20: indicated minus true: +1.0° at 0°, -3.5° at 45°, -6.0° at 90°, -4.9° at 135°, "
        "-1.0° at 180°, +3.5° at 225°, +6.0° at 270°, +4.9° at 315°; known to 1° (recorded), pointed to 1°, so ± "
        "1.6° (95 %)"
    )
    assert found.do == (
        "set interference_offset_ut_per_a to [-0.1100, 0.2300, -0.0500] and repeat the run; if that is not enough, "
        "look for steel and magnets near the compass; calibrate it away from them; repeat the heading check"
    )
    assert marked(text, found.place) == "[-0.08, 0.23, -0.05]"
    assert [(marked(text, at.place), at.message) for at in found.related] == [
        ("[90.0, 84.0]", "with the motors still: up to 6.1°"),
        ("date: 2026-05-16", "the run of 2026-05-16"),
    ]
    assert answer(text, AIM) == NotApplicable("more than the limit of total-deviation is found")


def test_the_iron_is_named_first_where_it_makes_more():
    text = flown((1, -8, -1, 8), "[-0.095, 0.23, -0.05]")
    found = expect(Finding, answer(text, TOTAL))
    assert found.do == (
        "look for steel and magnets near the compass; calibrate it away from them; repeat the heading check; if "
        "that is not enough, set interference_offset_ut_per_a to [-0.1100, 0.2300, -0.0500] and repeat the run"
    )
    assert marked(text, found.place) == "[90.0, 82.0]"
    assert found.related[0].message == "what the current makes: up to 4.0°"


def test_the_current_against_the_iron_is_no_fault():
    """The same amounts, the iron the other way round."""
    assert isinstance(answer(flown((1, 6, 1, -6), "[-0.08, 0.23, -0.05]"), TOTAL), Clear)


def test_above_the_aim_in_full():
    text = flown((1, -4, -1, 4), "[-0.095, 0.23, -0.05]")
    found = expect(Finding, answer(text, AIM))
    assert found.message == (
        "at full throttle (84 A), level: compass 8.1° off at indicated 100°; 5° is aimed at"
    )
    assert marked(text, found.place) == "[90.0, 86.0]"
    assert isinstance(answer(text, TOTAL), Clear)


# The current turns by asin(84 A · 0.015 µT/A / 18.1 µT) = 4.0° on east and west, iron by so much more the same way.
# Directions known to 1° and the nose pointed to 1°: U = 1.60°, and what the run scatters.
@pytest.mark.parametrize(("iron", "total", "aim"), [
    (0.0, Clear, Unproven),
    (3.0, Clear, Finding),
    (4.2, Clear, Finding),
    (5.4, Unproven, Finding),
    (6.6, Unproven, Finding),
    (8.2, Finding, NotApplicable),
])
def test_both_sides_of_limit_and_aim(iron, total, aim):
    text = flown((0, -iron, 0, iron), "[-0.095, 0.23, -0.05]")
    assert isinstance(answer(text, TOTAL), total)
    assert isinstance(answer(text, AIM), aim)


def test_too_uncertain_in_full():
    text = flown((1, -5, -1, 5), "[-0.09, 0.23, -0.05]", accuracy=3)
    told = expect(Unproven, answer(text, TOTAL))
    assert told.cause == "uncertain"
    assert told.message == (
        "at full throttle (84 A), level: compass 10.4° off at indicated 98°, perhaps 14.0°: too near 10° to tell"
    )
    assert told.do == "repeat the heading check with directions that are known better, by a longer map line"
    assert told.mind == FIELD_CHECK
    assert marked(text, told.place) == "[90.0, 85.0]"


def test_what_one_cause_makes_by_itself_is_said_once():
    alone = flown(offset="[-0.05, 0.23, -0.05]")
    assert isinstance(answer(alone, "interference/heading-error"), Finding)
    assert answer(alone, TOTAL) == NotApplicable("interference by itself is beyond the limit, as heading-error says")
    turned = flown((1, 14, 1, 1))
    assert isinstance(answer(turned, "compass/heading-check"), Finding)
    assert answer(turned, TOTAL) == NotApplicable(
        "with the motors still the compass is beyond the limit, as heading-check says"
    )


def test_right_in_full():
    assert answer(flown(), TOTAL) == Clear(
        "iron and current together: hover 24 A level 1.0° (0.0 to 2.6°); hover 24 A tilted 1.0° (0.0 to 2.6°); full "
        "84 A level 1.0° (0.0 to 2.6°); full 84 A tilted 1.0° (0.0 to 2.6°); with the motors still up to 1.0°; run "
        "of 2026-05-16: interference left over [0.0000, 0.0000, 0.0000] µT/A forward, right, down; heading check of "
        "2026-05-20: indicated minus true: +1.0° at 0°, +1.0° at 45°, +1.0° at 90°, +1.0° at 135°, +1.0° at 180°, "
        "+1.0° at 225°, +1.0° at 270°, +1.0° at 315°; known to 1° (recorded), pointed to 1°, so ± 1.6° (95 %)"
    )
    figure = computed(inspect_text(flown()), "total_deviation_deg", "hover-level")
    assert figure.value == pytest.approx(1.0, abs=0.05)
    # 1° twice as a rectangular bound, GUM 4.3.7
    assert figure.standard_uncertainty == pytest.approx((2 / 3) ** 0.5, abs=0.05)


def test_three_headings_do_not_go_round():
    told = answer(flown((1, 1, 1)), TOTAL)
    assert (told.cause, told.message) == (
        "absent", "the heading check does not go round the circle",
    )
    assert isinstance(answer(flown((1, -8, 8), "[-0.08, 0.23, -0.05]"), TOTAL), Finding)


@pytest.mark.parametrize(("text", "message"), [
    (flown(motors=""), "front-left.motor.full_throttle_draw_a is not recorded"),
    (flown().replace(SITE, ""), "site.latitude_deg is not recorded"),
])
def test_what_is_missing(text, message):
    for rule in (TOTAL, AIM):
        told = answer(text, rule)
        assert (told.cause, told.message) == ("absent", message)


def test_full_throttle_and_the_motors_still_bound_what_is_at_hover():
    told = expect(Clear, answer(flown(hover=""), TOTAL))
    assert "still 0 A level" in told.evidence


def test_the_motors_still_are_named_where_the_current_makes_less_of_it():
    told = expect(Unproven, answer(flown((1, 6, 1, -6), "[-0.08, 0.23, -0.05]", hover=""), AIM))
    assert told.message == (
        "with the motors still, level: compass 6.0° off at indicated 98°, perhaps 7.7°: too near 5° to tell"
    )


def test_what_is_missing_hides_no_finding():
    assert isinstance(answer(flown((1, -6, -1, 6), "[-0.08, 0.23, -0.05]", hover=""), TOTAL), Finding)


def test_without_a_run_or_a_check_the_other_rules_ask():
    whole = flown()
    without_check = "".join(line for line in whole.splitlines(True) if "heading_check" not in line)
    without_run = whole.replace(run(), "")
    for text, because, rule in (
        (without_check, "neither a heading check, which heading-check asks for, nor a rotation is recorded",
         "compass/heading-check"),
        (
            without_run, "no interference run is recorded, which heading-error asks for", "interference/heading-error",
        ),
    ):
        assert answer(text, TOTAL) == answer(text, AIM) == NotApplicable(because)
        seen = inspect_text(text)
        assert isinstance(outcome(seen, rule), Unproven)
        assert seen.verdict == "unproven"


def test_no_compass():
    head = f"{opening()}compass: none\nrecords:\n"
    records = flown()[flown().index("  heading_check") :]
    assert answer(head + records, TOTAL) == NotApplicable("no compass is fitted")


@pytest.mark.parametrize(("work", "message"), [
    ("{date: 2026-05-18, kind: moved, part: battery-tray}",
     "the interference run of 2026-05-16 is outdated: battery tray moved on 2026-05-18"),
    ("{date: 2026-05-21, kind: replaced, part: payload}",
     "the heading check of 2026-05-20 is outdated: payload replaced on 2026-05-21"),
])
def test_what_is_stale_vouches_for_nothing(work, message):
    told = answer(flown() + f"logbook:\n  - {work}\n", TOTAL)
    assert (told.cause, told.message) == ("stale", message)


def test_the_current_scale_changed_since():
    """Converted, the run can show a fault; it never shows that all is well."""
    text = flown().replace("power_sensing: {sensor_mv_per_a: 26.4}", "power_sensing: {sensor_mv_per_a: 25}")
    told = answer(text, TOTAL)
    assert told.cause == "stale"
    assert told.message == "sensor_mv_per_a is 25 now and was 26.4 during the run of 2026-05-16"


@pytest.mark.parametrize("headings", [[0, 0, 0, 0, 0, 0, 0], [0, 1, 2, 3], [0, 180], [0, 40, 80, 120]])
def test_headings_on_one_side_say_nothing_of_the_others(headings):
    rows = [[h, h + 1 + i % 2] for i, h in enumerate(headings)]
    text = flown((1, 1, 1, 1)).replace(ALL_ROUND, str(rows))
    told = expect(Unproven, answer(text, TOTAL))
    assert told.message == "the heading check does not go round the circle"


def test_four_headings_all_round_do_not_clear_what_soft_iron_makes_in_between():
    rows = [[h, h + 1] for h in (0, 90, 180, 270)]
    told = expect(Unproven, answer(flown().replace(ALL_ROUND, str(rows)), TOTAL))
    assert told.message == "4 headings do not show soft iron: it takes eight, 45° apart, or a rotation"


def test_where_headings_do_not_go_round_their_mean_is_taken_on_every_heading():
    """By hand: mounted 4° off, and asin(0.03 · 24 / 18.1) and asin(0.03 · 84 / 18.1) of the current at its worst."""
    rows = [[h, h + 4] for h in range(4)]
    told = answer(flown((1, 1, 1, 1), "[-0.08, 0.23, -0.05]").replace(ALL_ROUND, str(rows)), TOTAL)
    assert "hover 24 A level 6.3° (" in told.evidence
    assert "full 84 A level 12.0° (" in told.evidence


def by_rotation(centre, offset, noise=0.05, digits=2):
    """No heading check; the aircraft turned through all attitudes instead, without any correction."""
    ways = directions(40)
    rows = 49.77 * ways + np.array(centre) + np.random.default_rng(3).normal(0, noise, ways.shape)
    text = "".join(line for line in flown(offset=offset).splitlines(True) if "heading_check" not in line)
    return text.replace("-0.05]}", "-0.05], hard_iron_ut: [0, 0, 0]}") + (
        "  compass_rotation:\n    - date: 2026-05-16\n      field_is: raw\n"
        f"      columns: [field_x_ut, field_y_ut, field_z_ut]\n      rows: {rows.round(digits).tolist()}\n"
    )


def test_where_the_run_is_in_more_doubt_than_the_rotation_the_run_is_repeated():
    noise = iter(np.random.default_rng(2).normal(0, 0.6, 15).round(2).tolist())
    rows = [[a, *(round(c + b * a + next(noise), 2) for c, b in zip((9.1, 24.4, 38.2), MADE, strict=True))]
            for a in (0.0, 8.1, 16.2, 24.1, 0.1)]  # fmt: skip
    text = by_rotation((1.0, 0, 0), "[-0.10, 0.23, -0.05]").replace(run(), run(rows))
    told = expect(Unproven, answer(text, TOTAL))
    assert told.cause == "uncertain"
    assert told.do.startswith("repeat the run with more steps and a higher current; ")


def test_by_a_rotation_in_full():
    text = by_rotation((2.8, 0, 0), "[-0.08, 0.23, -0.05]")  # (2.8 + 84·0.03) / 18.1 is the sine of 17.1°
    assert isinstance(answer(text, "compass/hard-iron"), Clear)
    assert isinstance(answer(text, "interference/heading-error"), Clear)
    found = expect(Finding, answer(text, TOTAL))
    assert found.message == (
        "at full throttle (84 A), level: compass 17.1° off at indicated 108°, more than 10°"
    )
    assert found.do == (
        "set hard_iron_ut to [-2.8, 0.0, 0.0], then log a rotation again; if that is not enough, set "
        "interference_offset_ut_per_a to [-0.1100, 0.2300, -0.0500] and repeat the run"
    )
    assert marked(text, found.place) == "date: 2026-05-16"
    assert found.evidence.endswith("; raw rotation of 2026-05-16, 40 rows: hard iron left over [2.8, 0.0, 0.0] µT")
    against = by_rotation((-2.8, 0, 0), "[-0.08, 0.23, -0.05]")
    assert isinstance(answer(against, TOTAL), Clear)
    seen = inspect_text(against)
    assert isinstance(outcome(seen, "compass/heading-check"), Unproven)  # which side a compass is mounted on
    assert seen.verdict == "unproven"


def test_how_well_the_earths_field_is_known_counts_as_much_as_the_error_is_large():
    """6 µT across 18.09 µT turn by asin 0.3317 = 19.4°, and by the share of it by which the field is in doubt, 0.14°.

    What is in doubt without any iron is so much of a turned field: over the cosine.
    """
    seen, bare = (inspect_text(by_rotation((iron, 0, 0), "[-0.11, 0.23, -0.05]")) for iron in (6, 0))
    told, without = (computed(one, "total_deviation_deg", "hover-level") for one in (seen, bare))
    field = computed(seen, "field_horizontal_ut")
    assert told.value == pytest.approx(19.37, abs=0.05)
    of_field = 19.37 * field.standard_uncertainty / field.value
    assert of_field == pytest.approx(0.142, abs=0.002)
    by_rows = without.standard_uncertainty / np.cos(np.radians(19.37))
    assert told.standard_uncertainty == pytest.approx(np.hypot(of_field, by_rows), rel=0.03)


@pytest.mark.parametrize(("iron", "worst", "remedy"), [
    (0, "level: compass 14.1°", "look for steel and magnets near the compass; calibrate it away from them; repeat the"),
    (2.8, "tilted 25°: compass 17.1°", "set hard_iron_ut to [-2.8, 0.0, 0.0], then log a rotation again"),
])  # fmt: skip
def test_beside_a_heading_check_a_rotation_names_its_remedy_where_it_shows_more(iron, worst, remedy):
    """The check shows 6° with the motors still, the rotation none, or 2.8 of 18.1 µT: 8.9°."""
    rotation = by_rotation((iron, 0, 0), "[-0.08, 0.23, -0.05]").partition("  compass_rotation:")
    text = flown((1, -6, -1, 6), "[-0.08, 0.23, -0.05]").replace("-0.05]}", "-0.05], hard_iron_ut: [0, 0, 0]}")
    found = expect(Finding, answer(text + "".join(rotation[1:]), TOTAL))
    assert found.message.startswith(f"at full throttle (84 A), {worst} off")
    assert remedy in found.do


def test_readings_without_any_doubt_leave_that_of_the_earths_field():
    """(2.8 + 24·0.03) / 18.093 is the sine of 11.22°, of which 1.96·0.133/18.093 are 0.16°."""
    exact = run([[a, *(round(c + b * a, 5) for c, b in zip((9.1, 24.4, 38.2), MADE, strict=True))]
                 for a in (0.0001, 8.1002, 16.2003, 24.1004, 0.0002)])  # fmt: skip
    text = by_rotation((2.8, 0, 0), "[-0.08, 0.23, -0.05]", noise=0, digits=5).replace(run(), exact)
    assert "current together: hover 24 A level 11.2° (11.1 to 11.4°); " in expect(Finding, answer(text, TOTAL)).evidence


def test_hard_iron_by_itself_is_said_once():
    text = by_rotation((5, 0, 0), "[-0.11, 0.23, -0.05]")
    assert isinstance(answer(text, "compass/hard-iron"), Finding)
    assert answer(text, TOTAL) == NotApplicable("hard iron by itself is beyond the limit, as hard-iron says")
    checked = (
        "  heading_check: [{date: 2026-05-20, reference: {accuracy_deg: 1}, columns: [true_deg, indicated_deg], "
        "rows: [[0, 1], [90, 91], [180, 181], [270, 271]]}]\n"
    )
    assert answer(text + checked, TOTAL) == NotApplicable("hard iron by itself is beyond the limit, as hard-iron says")
