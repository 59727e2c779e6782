"""The heading check: full texts, both sides of the limit, coverage, and a turned compass against vectors."""

from math import atan2, cos, degrees, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from making.manifests import answer, expect, manifest
from preflint_rules.compass.checks import short_way, widest_gap
from preflint_rules.compass.heading import constant_turn

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import marked

COMPASS = "compass: {noise_ut: 0.3}\n"
ONE_SIDED = "the heading check does not go round the circle"
NO_SOFT_IRON = (
    "{} headings do not show soft iron: it takes eight, 45° apart, or a rotation"
)
BARE = manifest(COMPASS, name="Lapwing")


def checked(rows, accuracy="reference: {accuracy_deg: 2}, "):
    written = "".join(f"  [{true:g}, {indicated:g}],\n" for true, indicated in rows)
    entry = f"{{date: 2026-05-20, {accuracy}columns: [true_deg, indicated_deg], rows: [\n{written}]}}\n"
    return manifest(COMPASS, records={"heading_check": entry}, name="Lapwing")


def judged(rows, accuracy="reference: {accuracy_deg: 2}, "):
    return answer(checked(rows, accuracy), "compass/heading-check")


def test_one_heading_wrong_in_full():
    rows = [(0, 2), (90, 93), (180, 178), (270, 255)]
    text, found = checked(rows), judged(rows)
    assert isinstance(found, Finding)
    assert found.message == "with the nose at 270° the compass indicates 15° too far counter-clockwise"
    assert found.evidence == (
        "indicated minus true: +2.0° at 0°, +3.0° at 90°, -2.0° at 180°, -15.0° at 270°; "
        "known to 2° (recorded), pointed to 1°, so ± 2.5° (95 %); at most 10°"
    )
    assert found.do == (
        "look for steel, magnets and power leads near the compass; calibrate it again away from them; then repeat "
        "the heading check"
    )
    assert marked(text, found.place) == "[270, 255]"


@pytest.mark.parametrize(("turn", "how", "back"), [
    (90, "a quarter turn clockwise", "90° counter-clockwise"),
    (-90, "a quarter turn counter-clockwise", "90° clockwise"),
    (180, "half a turn", "180° either way"),
])
def test_a_compass_mounted_turned_in_full(turn, how, back):
    # A compass whose forward axis points `turn` degrees clockwise of the nose, in a field that points north.
    rows = []
    for heading in (0, 90, 180, 270):
        axis = radians(heading + turn)
        forward, right = cos(axis), -sin(axis)  # the field along the compass's own axes
        rows.append((heading, round(degrees(atan2(-right, forward)) % 360) % 360))
    found = expect(Finding, judged(rows))
    assert found.message == (
        f"the compass sits {how} from its setting, seen from above"
    )
    assert found.do == f"turn the compass by {back}, or set the way it is mounted; then repeat the heading check"


def test_a_compass_the_wrong_way_up_in_full():
    # Turned over about its forward axis: right and down change sign, so a heading of 90° is shown as 270°.
    rows = [(h, round(degrees(atan2(-sin(radians(h)), cos(radians(h)))) % 360) % 360) for h in (0, 90, 180, 270)]
    assert rows == [(0, 0), (90, 270), (180, 180), (270, 90)]
    found = judged(rows)
    assert (found.message, found.do) == (
        "the heading turns against the nose: the compass is the wrong way up",
        "set the way the compass is mounted, with the side that is up, and calibrate it; then repeat the heading check",
    )


def test_two_norths_in_full():
    # Declination at Nuuk, 64.2° N 51.7° W: about 24° west (World Magnetic Model, from memory).
    site = "site: {latitude_deg: 64.2, longitude_deg: -51.7, elevation_m: 10}\n"
    rows = [(h, (h + 24 + more) % 360) for h, more in ((0, 0), (90, 1), (180, -1), (270, 0))]
    for where, seen in (("", ""), (site, "; declination at the site -24°")):
        found = answer(checked(rows).replace("records:", f"{where}records:"), "compass/heading-check")
        assert found.message == "every heading is off by about +24°: the compass is turned, or the norths are two"
        assert found.evidence.endswith(f"at most 10°{seen}")
        assert found.do == (
            "look whether both columns count from true north and the declination is set; if so, set the way the "
            "compass is mounted; then repeat the heading check"
        )


@pytest.mark.parametrize(("more", "alike"), [(9.9, True), (10.1, False)])
def test_iron_turns_not_all_alike(more, alike):
    found = judged([(0, 20), (90, 110), (180, 200 + more), (270, 290 + more)])
    assert found.message.startswith("every heading is off") is alike


# Errors of 20, 20, 20 and 20 - less have a mean of 20 - less / 4: one lies 3/4 · less below it, none far above.
@pytest.mark.parametrize(("less", "alike"), [(6.6, True), (6.8, False)])  # 4.95° and 5.1° below; 5° are alike
def test_one_heading_behind_all_others_is_not_alike(less, alike):
    found = judged([(0, 20), (90, 110), (180, 200), (270, 290 - less)])
    assert found.message.startswith("every heading is off") is alike


# Directions known to 2° and the nose pointed to 1° each time: U = 1.96 · √(2²/3 + 1²/3) = 2.530°.
# Limit of 14 CFR 27.1327: 10° on any heading.
@pytest.mark.parametrize(
    ("error", "expected"),
    [(7.4, Clear), (-7.4, Clear), (7.5, Unproven), (-12.5, Unproven), (12.6, Finding), (-12.6, Finding)],
)
def test_both_sides_of_the_limit(error, expected):
    assert isinstance(judged([(h, h + error * (h == 180)) for h in range(0, 360, 45)]), expected)


def test_too_uncertain_in_full():
    open_question = judged([(h, h + 10 * (h == 180)) for h in range(0, 360, 45)])
    assert (open_question.cause, open_question.message, open_question.do) == (
        "uncertain", "the heading check cannot tell whether the error at 180° is within the limit",
        "repeat it with directions that are known better, by a longer map line",
    )


def test_an_accuracy_is_taken_where_none_is_recorded():
    clear = expect(Clear, judged([(h, h + h % 2) for h in range(0, 360, 45)], ""))
    assert "known to 3° (taken, since none is recorded), pointed to 1°, so ± 3.6° (95 %)" in clear.evidence


@pytest.mark.parametrize(("headings", "covered"), [
    (range(0, 360, 45), True),
    (range(10, 370, 40), True),
    ((0, 60, 90, 135, 180, 225, 270, 315), True),
    ((0, 61, 90, 135, 180, 225, 270, 315), False),
    (range(0, 350, 50), False),  # steps of 50°, seven of them
    ((0, 90, 180, 270), False),
    ((45, 135, 225, 315), False),
    ((0, 90, 180), False),
    ((0, 0, 90, 180), False),
    ((0, 30, 60, 90), False),
    ((0, 80, 160, 239), False),
])
def test_the_circle_is_covered(headings, covered):
    told = judged([(h % 360, h % 360) for h in headings])
    assert isinstance(told, Clear) == covered
    if not covered:
        assert told.message in (ONE_SIDED, NO_SOFT_IRON.format(len(headings)))
        assert (told.message == ONE_SIDED) == (len(headings) < 5 and max(headings) < 260)


def test_headings_counted_from_minus_180_cover_the_circle_as_well():
    """-60° is 300°, as far from 240° as neighbours may be."""
    headings = [0, 45, 90, 135, 180, 240, -60, -30]
    expect(Clear, judged([(h, h) for h in headings]))
    assert widest_gap(headings) == widest_gap([h % 360 for h in headings]) == 60


def test_four_headings_in_full():
    """Of D·sin 2θ they see nothing, whatever D is: 14 CFR 25.1547(e) asks for steps of at most 45°."""
    told = expect(Unproven, judged([(h, h) for h in (0, 90, 180, 270)]))
    assert (told.cause, told.message) == ("absent", NO_SOFT_IRON.format(4))
    assert told.do == (
        "point the nose along eight directions, 45° apart, by a map line, away from steel and cables; write "
        "true_deg and indicated_deg of each in a heading_check; or log a compass_rotation"
    )
    errors = [12 * sin(2 * radians(h)) for h in range(0, 360, 45)]
    assert isinstance(judged([(h, h + e) for h, e in zip(range(0, 360, 45), errors, strict=True)]), Unproven)


def test_an_error_counts_even_where_the_circle_is_not_covered():
    assert isinstance(judged([(0, 30)]), Finding)


def test_input_missing_and_out_of_the_question():
    rule = "compass/heading-check"
    absent = expect(Unproven, answer(BARE, rule))
    assert (absent.cause, absent.message) == ("absent", "no heading check is recorded")
    unknown = expect(Unproven, answer(BARE.replace("compass: {noise_ut: 0.3}\n", ""), rule))
    assert unknown.message == "whether the aircraft has a compass is not recorded"
    assert answer(BARE.replace("{noise_ut: 0.3}", "none"), rule) == NotApplicable(
        "the aircraft does not rely on a compass"
    )


@settings(derandomize=True, deadline=None)
@given(st.integers(-2000, 2000))
def test_short_way_is_the_same_direction(angle):
    short = short_way(angle)
    assert -180 < short <= 180
    assert (short - angle) % 360 == 0


@settings(derandomize=True, deadline=None)
@given(st.sampled_from([90, -90, 180]), st.floats(-18, 18), st.lists(st.floats(-7, 7), min_size=4, max_size=12))
def test_a_turned_compass_is_recognised(turn, off, scatter):
    errors = [short_way(turn + off * 0.6 + s) for s in scatter]
    assert constant_turn(errors) == turn
    assert constant_turn([off, *scatter]) is None


def test_widest_gap():
    assert widest_gap([0, 90, 180, 270]) == 90
    assert widest_gap([350, 10]) == 340
    assert widest_gap([10]) == 360
