"""Hard iron, soft iron and field strength by a rotation: full texts, both sides of the limits, what is missing."""

import numpy as np
import pytest
from making.earth import directions
from making.manifests import SITE, answer, expect, manifest

from preflint.api import SETTINGS, Clear, Finding, NotApplicable, Unproven
from preflint.testing import computed, inspect_text, marked

FIELD_UT = 49.77  # of the model there, to 0.3 µT
HARD, SOFT, STRENGTH = "compass/hard-iron", "compass/soft-iron", "compass/field-strength"
UNIT = ", soft_iron: [[1, 0, 0], [0, 1, 0], [0, 0, 1]]"
IN_FORCE = "in_force: {hard_iron_ut: [-4.1, 12.0, -7.7]}\n"
HOW = (
    "log the field outdoors, away from steel and cables, motors still: turn the aircraft slowly, each of its six "
    "sides down in turn, with a full turn on each"
)


BLIND = "the rotation of 2026-05-16 does not show the compass's errors"
CAUSES = "motors ran, steel was near, or it is another log"


def turned(
    centre=(4.1, -12.0, 7.7),
    added="hard_iron_ut: [-4.1, 12.0, -7.7]",
    kind="raw",
    then="",
    iron=(1, 1, 1),
    scale=1.0,
    noise=0.05,
    only=lambda ways: ways,
    count=40,
    unit="ut",
    times=1,
    site=SITE,
):
    """Directions spread evenly over the sphere (Fibonacci lattice), or those that are left of them."""
    ways = only(directions(count))
    rows = FIELD_UT * scale * ways * iron + np.array(centre)
    rows = rows + np.random.default_rng(3).normal(0, noise, rows.shape)
    columns = ", ".join(f"field_{axis}_{unit}" for axis in "xyz")
    log = f"columns: [{columns}]\nrows: {np.repeat(rows.round(2), times, axis=0).tolist()}\n"
    entry = f"date: 2026-05-16\nfield_is: {kind}\n{then}{log}"
    return manifest(site, f"compass: {{{added}}}\n", records={"compass_rotation": entry})


def test_right_in_full():
    assert answer(turned(), HARD) == Clear(
        "largest heading error 0.0° (0.0 to 0.1°); at most 10°; left over [0.0, 0.0, 0.0] µT forward, right, down; "
        "the flight controller adds [-4.1, 12.0, -7.7]; raw rotation of 2026-05-16, 40 rows: centre [4.1, -12.0, "
        "7.7] ± 0.05 µT; horizontal field 18.1 µT"
    )
    assert answer(turned(), STRENGTH) == Clear(
        "raw rotation of 2026-05-16, 40 rows: 49.8 ± 0.02 µT; the model has 49.8 ± 0.3 µT at the site (95 %); "
        "at most 15 % apart"
    )
    assert isinstance(answer(turned(added="hard_iron_ut: [-4.1, 12.0, -7.7]" + UNIT), SOFT), Clear)


def test_the_figures():
    seen = inspect_text(turned(iron=(1.1, 1.0, 1.0)))
    for axis, needed in zip("xyz", (-4.1, 12.0, -7.7), strict=True):
        figure = computed(seen, "hard_iron_needed_ut", axis)
        assert figure.value == pytest.approx(needed, abs=0.06)
        assert 0.005 < figure.standard_uncertainty < 0.03  # noise of 0.05 µT in 40 rows: 0.05·√3/√40
    assert computed(seen, "field_radius_ut").value == pytest.approx(FIELD_UT * 1.1 ** (1 / 3), abs=0.03)
    assert computed(seen, "soft_iron_axis_ratio").value == pytest.approx(1.1, abs=0.003)


# Noise of 2 µT leaves 0.72 µT of the radius in doubt, the model 0.3 µT: U = √(0.72² + 0.3²) = 0.78 µT, as rows of
# these sizes come out 6.5, 6.8, 8.0 and 8.6 µT above the model, of which 15 % are 7.5 µT.
@pytest.mark.parametrize(("scale", "expected"), [
    (1.125, Clear), (1.131, Unproven), (1.155, Unproven), (1.167, Finding),
])
def test_the_doubt_of_the_radius_and_of_the_model_add_as_squares(scale, expected):
    assert isinstance(answer(turned(scale=scale, noise=2.0), STRENGTH), expected)


def test_too_much_left_over_in_full():
    text = turned(added="hard_iron_ut: [-0.1, 12.0, -7.7]")
    found = expect(Finding, answer(text, HARD))
    assert found.message == "hard iron left over turns the compass by up to 12.8°, more than 10°"
    assert found.evidence == (
        "largest heading error 12.8° (12.5 to 13.1°); at most 10°; left over [4.0, 0.0, 0.0] µT forward, right, "
        "down; the flight controller adds [-0.1, 12.0, -7.7]; raw rotation of 2026-05-16, 40 rows: centre [4.1, "
        "-12.0, 7.7] ± 0.05 µT; horizontal field 18.1 µT"
    )
    assert found.do == ("set hard_iron_ut to [-4.1, 12.0, -7.7], then log a rotation and repeat the heading check")
    assert marked(text, found.place) == "[-0.1, 12.0, -7.7]"
    assert [marked(text, at.place) for at in found.related] == ["date: 2026-05-16"]


def test_a_compass_that_shows_all_too_weak_is_turned_by_more():
    """Four fifths of the field on every axis: asin(4.0 / (0.8 · 18.09)) = 16.05°, where asin(4.0 / 18.09) is 12.8°."""
    found = expect(Finding, answer(turned((4.0, 0, 0), "hard_iron_ut: [0, 0, 0]", scale=0.8), HARD))
    assert found.message == "hard iron left over turns the compass by up to 16.1°, more than 10°"


# Horizontal field 18.1 µT: asin(h / 18.1) is 10° at h = 3.14 µT; the model field and the scatter move that by 0.08 µT.
@pytest.mark.parametrize(("left", "expected"), [(2.9, Clear), (3.14, Unproven), (3.4, Finding)])
@pytest.mark.parametrize(("axis", "sign"), [(0, 1), (0, -1), (1, 1), (1, -1)])
def test_both_sides_of_the_limit(axis, sign, left, expected):
    centre = [0.0, 0.0, 9.0]  # the vertical part does not count level
    centre[axis] = sign * left
    assert isinstance(answer(turned(centre, "hard_iron_ut: [0, 0, 0]"), HARD), expected)


def test_the_wrong_sign():
    text = turned(added="hard_iron_ut: [4.1, -12.0, 7.7]")
    found = answer(text, HARD)
    assert found.message == (
        "hard_iron_ut has the wrong sign: it adds to what the aircraft's magnets make"
    )
    assert found.do.startswith("set hard_iron_ut to [-4.1, 12.0, -7.7]")


@pytest.mark.parametrize(("rows", "why"), [
    # Drawn by chance, without a shape: one leads to equations without an answer, one to a fit without an end.
    ([[-1.43, -0.56, -0.87], [-1.25, -0.91, 0.42], [-0.13, 0.79, -0.29], [-1.06, 0.66, 0.52], [-0.54, -1.39, -1.41],
      [-0.16, -1.01, 0.02], [-0.0, -1.17, 0.27], [1.41, -0.92, -0.98], [-2.24, -2.73, -0.99], [2.48, -1.16, -0.29]],
     "the points tell no shape; they cover too little of it, or scatter too far"),
    ([[2.93, 1.16, 0.87], [-1.24, -0.52, -1.63], [4.03, -0.81, -0.89], [3.0, -2.78, 3.18], [-0.37, -0.13, 4.53],
      [1.33, 0.43, -1.19], [1.77, -0.33, -0.97], [-2.32, -1.71, 0.43], [-0.68, 1.79, 0.71], [2.8, 2.32, -0.23]],
     "the points settle on no shape; they cover too little of one, or scatter too far"),
])  # fmt: skip
def test_points_without_a_shape_show_nothing(rows, why):
    text = turned()
    start, end = text.index("rows: ") + len("rows: "), text.index("]]") + 2
    told = expect(Unproven, answer(text[:start] + str(rows) + text[end:], HARD))
    assert (told.cause, told.message, told.evidence) == ("uncertain", BLIND, why)


def test_stronger_than_the_field():
    found = answer(turned(added="hard_iron_ut: [30, 12, -7]"), HARD)
    assert found.message == (
        "hard iron left over exceeds the Earth's horizontal field: headings mean nothing"
    )


def test_a_compensated_log_used_as_if_raw():
    log = {"centre": (0.5, 1.5, -0.2), "kind": "compensated", "then": IN_FORCE}
    found = answer(turned(added="hard_iron_ut: [-0.5, -1.5, 0.2]", **log), HARD)
    assert found.message == (
        "the hard-iron correction lacks what the compensated log held: [-4.1, 12.0, -7.7]"
    )
    assert found.do.startswith("set hard_iron_ut to [-4.6, 10.5, -7.5], then")
    assert isinstance(answer(turned(added="hard_iron_ut: [-4.6, 10.5, -7.5]", **log), HARD), Clear)
    assert isinstance(answer(turned(added="hard_iron_ut: [-4.1, 12.0, -7.7]", **log), HARD), Clear)


@pytest.mark.parametrize(("text", "why"), [
    (turned(centre=(0, 0, 0)),
     "the log says raw, but is centred already, though a hard-iron correction is installed"),
    (turned(kind="compensated", then=IN_FORCE),
     "the log says compensated, but shows just what the correction in force should have taken away"),
])
def test_a_log_that_looks_like_the_other_kind(text, why):
    found = answer(text, HARD)
    assert found.do.startswith("look first whether field_is is right; if it is, set ")
    assert found.evidence.startswith(f"{why}; largest heading error ")


def test_milligauss_under_the_name_of_microtesla():
    text = turned((0, 0, 0), "hard_iron_ut: [0, 0, 0]", scale=10)
    found = expect(Finding, answer(text, STRENGTH))
    assert found.message == (
        "the rotation shows 497.7 µT, the Earth has 49.8 µT: ten times, as if in milligauss"
    )
    assert found.do == (
        "look in the logger's settings in what unit it logs, and name the columns _ut or _mgauss by that"
    )
    assert marked(text, found.place) == "date: 2026-05-16"
    for rule in (HARD, SOFT):
        told = answer(text, rule)
        assert (told.cause, told.message) == (
            "uncertain", "the rotation shows 498 µT, the Earth has 49.8 µT",
        )
    milligauss = turned((0, 0, 0), "hard_iron_ut: [0, 0, 0]", scale=10, unit="mgauss")
    assert isinstance(answer(milligauss, STRENGTH), Clear)


@pytest.mark.parametrize(("scale", "why"), [
    (8.4, "another unit or scale"), (8.6, "ten times, as if in milligauss"), (11.4, "ten times, as if in milligauss"),
    (11.6, "another unit or scale"), (3.9, "near steel, or a wrong scale"), (4.1, "another unit or scale"),
    (0.26, "near steel, or a wrong scale"), (0.24, "another unit or scale"),
])
def test_what_another_strength_looks_like(scale, why):
    """Ten times the field within the 15 % that the field may differ by; iron on board makes up to four times."""
    found = expect(Finding, answer(turned((0, 0, 0), scale=scale, noise=0.05 * scale), STRENGTH))
    assert found.message.endswith(f": {why}")


def test_beside_steel_in_full():
    found = expect(Finding, answer(turned(scale=0.8), STRENGTH))
    assert found.message == (
        "the rotation shows 39.8 µT, the Earth has 49.8 µT: near steel, or a wrong scale"
    )
    assert found.do == (
        "calibrate and log the rotation again outdoors, away from steel, vehicles and reinforced concrete; if it "
        "shows the same there, the sensor's scale is wrong"
    )


@pytest.mark.parametrize(("scale", "expected"), [
    (0.84, Finding), (0.85, Unproven), (0.86, Clear), (1.14, Clear), (1.15, Unproven), (1.16, Finding), (0.01, Finding),
])
def test_both_sides_of_the_strength(scale, expected):
    assert isinstance(answer(turned((0, 0, 0), scale=scale, noise=0.05 * scale), STRENGTH), expected)


def test_soft_iron_in_full():
    text = turned(iron=(1.15, 1, 1.05), added="hard_iron_ut: [0, 0, 0]" + UNIT)
    found = expect(Finding, answer(text, SOFT))
    assert found.message == "soft iron turns the compass by up to 4.0°; 3° is aimed at"
    assert found.evidence == (
        "largest heading error, level, at an inclination of 69°: 4.0° (3.9 to 4.2°); 3° is aimed at; raw rotation "
        "of 2026-05-16, 40 rows: longest over shortest axis 1.150, which scatter makes larger, at most 1.151 (95 "
        "%); after soft_iron 1.150"
    )
    assert marked(text, found.place) == "[[1, 0, 0], [0, 1, 0], [0, 0, 1]]"
    offered = found.do.split("set soft_iron to ")[1].split(", then log")[0]
    assert isinstance(answer(text.replace("[[1, 0, 0], [0, 1, 0], [0, 0, 1]]", offered), SOFT), Clear)


# Forward over right: asin((r - 1)/(r + 1)) is 3° at r = 1.1105.
@pytest.mark.parametrize(("ratio", "expected"), [(1.10, Clear), (1.1105, Unproven), (1.12, Finding)])
def test_both_sides_of_the_soft_iron_aim(ratio, expected):
    text = turned(iron=(ratio, 1, ratio**0.5), added="hard_iron_ut: [0, 0, 0]" + UNIT)
    assert isinstance(answer(text, SOFT), expected)


def test_iron_that_leans_counts_more_at_a_steep_inclination():
    """It brings part of the vertical field into the level plane: at 69° more than its ratio of axes alone tells."""

    def leaning(ways):
        return ways @ np.array([[1, 0, 0.04], [0, 1, 0], [0.04, 0, 1]])

    text = turned(only=leaning, added="hard_iron_ut: [0, 0, 0]" + UNIT)
    told = answer(text, SOFT)
    assert isinstance(told, Finding)  # 0.04·46.5/18.1 across, which is 5.9°; the ratio of 1.083 says 2.3°
    assert told.message == "soft iron turns the compass by up to 5.9°; 3° is aimed at"


def test_a_matrix_nobody_recorded():
    told = answer(turned(), SOFT)
    assert (told.cause, told.message) == (
        "absent", "whether a soft_iron matrix is set is not recorded: without one all is well",
    )
    found = expect(Finding, answer(turned(iron=(1.15, 1, 1)), SOFT))
    assert found.do.startswith("write soft_iron if one is set; else set it to [[0.9")


@pytest.mark.parametrize("rows", ["[[-1, 0, 0], [0, 1, 0], [0, 0, 1]]", "[[1, 0, 0], [1, 0, 0], [0, 0, 1]]"])
def test_a_matrix_that_can_be_none(rows):
    told = answer(turned(added=f"hard_iron_ut: [-4.1, 12.0, -7.7], soft_iron: {rows}"), SOFT)
    assert (told.cause, told.message) == (
        "uncertain", "the soft_iron matrix flattens or mirrors the field: nothing is right after it",
    )


@pytest.mark.parametrize(("text", "message", "why"), [
    (turned(count=8), BLIND, "8 points are too few for an ellipsoid and its scatter"),
    (turned(only=lambda ways: ways * [1, 1, 0], noise=0),
     BLIND, "the points do not determine an ellipsoid; they cover too little of it"),
    (turned(noise=10), "the readings of the rotation of 2026-05-16 lie ± 20 µT off any ellipsoid", CAUSES),
])
def test_what_shows_no_ellipsoid(text, message, why):
    for rule in (HARD, SOFT, STRENGTH):
        told = answer(text, rule)
        assert (told.cause, told.message, told.evidence, told.do) == ("uncertain", message, why, HOW)
        assert told.mind == SETTINGS


def test_too_little_coverage_is_no_verdict():
    """Tilted about by a few degrees only: all sides of the sphere but one are missing."""
    told = answer(turned(only=lambda ways: ways[ways[:, 2] > 0.8], count=400, noise=0.3), HARD)
    assert (told.message, told.evidence) == (
        BLIND, "the points do not determine an ellipsoid; they cover too little of it",
    )
    told = expect(Unproven, answer(turned(only=lambda ways: ways[ways[:, 2] > 0.4], count=60, noise=2), HARD))
    assert told.message.startswith("the rotation of 2026-05-16 covers too little: it shows the centre to ± ")
    added = "hard_iron_ut: [-1.5, 12, -7.7]"
    text = turned(only=lambda ways: ways[ways[:, 2] > 0.3], count=100, noise=0.3, added=added)
    told = expect(Unproven, answer(text, HARD))
    assert told.message.startswith("hard iron left over turns the compass by ")
    assert told.message.endswith(": too near 10° to tell")
    assert told.do == HOW


@pytest.mark.parametrize(("text", "rule", "message"), [
    (turned(added="noise_ut: 0.2"), HARD, "compass.hard_iron_ut is not recorded"),
    (turned(site=""), STRENGTH, "site.latitude_deg is not recorded"),
    (turned(kind="compensated"),
     HARD,
     "hard_iron_ut in force during the compass rotation of 2026-05-16 is not recorded"),
    (turned(kind="compensated", then=IN_FORCE, added="hard_iron_ut: [-4.1, 12.0, -7.7]" + UNIT),
     HARD,
     "soft_iron in force during the compass rotation of 2026-05-16 is not recorded"),
])
def test_what_is_missing(text, rule, message):
    told = answer(text, rule)
    assert (told.cause, told.message) == ("absent", message)


def test_moved_since():
    told = answer(turned() + "logbook:\n  - {date: 2026-05-18, kind: moved, part: compass}\n", HARD)
    assert (told.cause, told.message) == (
        "stale", "the compass rotation of 2026-05-16 is outdated: compass moved on 2026-05-18",
    )


@pytest.mark.parametrize("rule", [HARD, SOFT, STRENGTH])
def test_no_rotation_no_question(rule):
    head = manifest()
    because = "no compass rotation is recorded; the heading check is what flight needs"
    assert answer(head, rule) == NotApplicable(because)
    text = turned()
    taken_off = head + "compass: none\n" + text[text.index("records:") :]
    assert answer(taken_off, rule) == NotApplicable("no compass is fitted")
    assert inspect_text(taken_off).broken == ()


def test_rows_of_a_log_that_are_not_independent_count_for_less():
    """Every reading written ten times over says nothing more."""
    once = computed(inspect_text(turned(noise=0.3)), "field_radius_ut").standard_uncertainty
    tenfold = computed(inspect_text(turned(noise=0.3, times=10)), "field_radius_ut").standard_uncertainty
    assert 0.9 * once <= tenfold <= 1.6 * once  # what remembers ten rows and then nothing is taken to fade slowly


def test_a_few_rows_are_taken_as_independent():
    """29 rows are no log yet; σ·√(1/n) of 0.3 µT, a little more for the eight other numbers of an ellipsoid."""
    u = computed(inspect_text(turned(noise=0.3, count=29)), "field_radius_ut").standard_uncertainty
    assert 0.8 < u / (0.3 / 29**0.5) < 1.3
    # Though each be there twice; of thirty rows that is a log's memory.
    assert computed(inspect_text(turned(noise=0.3, count=14, times=2)), "field_radius_ut").dof == 28 - 9
    assert "follow too closely" in expect(Unproven, answer(turned(noise=0.3, count=15, times=2), STRENGTH)).message


@pytest.mark.parametrize(("held", "told"), [(26, True), (27, False)])
def test_rows_that_hardly_differ_from_the_one_before_tell_no_scatter(held, told):
    """Some positions, each logged for eight rows: hardly more of them than an ellipsoid has numbers."""
    said = answer(turned(noise=0.3, count=held, times=8), STRENGTH)
    message = "the rows of the rotation of 2026-05-16 follow too closely to tell their scatter"
    assert (getattr(said, "message", "") == message) is told
    if told:
        assert (said.cause, said.evidence, said.do) == ("uncertain", "", HOW)
