"""A log that cannot be one of the field at the compass vouches for nothing, however well it suits the offset."""

import pytest
from making.manifests import answer, expect, opening

from preflint.api import Clear, Unproven

MANIFEST = opening() + """\
site: {latitude_deg: 54.41, longitude_deg: -2.94, elevation_m: 212}
every_rotor: {motor: {full_throttle_draw_a: 17}}
power_sensing: {sensor_mv_per_a: 20}
compass: {interference_offset_ut_per_a: [0, 0, 0]}
records:
  hover: [{date: 2026-05-17, mean_current_a: 15, in_force: {sensor_mv_per_a: 20}}]
  interference_run:
    - date: 2026-05-16
      route: restrained
      field_is: raw
      in_force: {sensor_mv_per_a: 20}
      columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
      rows: [ROWS]
"""
STEPS = ((0, 0.2), (30, 6.0), (50, 15.0), (60, 20.0), (0, 0.2))
FIELD = ((9.10, 24.41, 38.17), (9.12, 24.40, 38.19), (9.09, 24.42, 38.16), (9.11, 24.41, 38.18), (9.10, 24.42, 38.17))


def heading_error(fields) -> object:
    rows = ", ".join(f"[{t}, {a}, {x:.5f}, {y:.5f}, {z:.5f}]" for (t, a), (x, y, z) in zip(STEPS, fields, strict=True))
    return answer(MANIFEST.replace("ROWS", rows), "interference/heading-error")


def test_a_field_that_the_current_leaves_alone() -> None:
    assert isinstance(heading_error(FIELD), Clear)


@pytest.mark.parametrize(("scale", "shown"), [(0.01, "0.462"), (10.0, "462"), (0.001, "0.0462")])
def test_a_log_in_another_unit(scale: float, shown: str) -> None:
    told = expect(Unproven, heading_error([tuple(scale * b for b in field) for field in FIELD]))
    assert told.cause == "uncertain"
    assert told.message == (
        f"the run of 2026-05-16 shows {shown} µT at the least current; the Earth has 22 to 67 µT"
    )
    assert told.do == (
        "look in the logger's settings in what unit it logs, and name the columns _ut or _mgauss by that"
    )


@pytest.mark.parametrize(("scale", "clear"), [(3.9, True), (4.5, False), (0.29, True), (0.25, False)])
def test_iron_on_board_is_no_other_unit(scale: float, clear: bool) -> None:
    assert isinstance(heading_error([tuple(scale * b for b in field) for field in FIELD]), Clear) == clear


def test_a_field_that_stands_still_to_the_last_digit_is_no_reading() -> None:
    told = expect(Unproven, heading_error([FIELD[0]] * len(FIELD)))
    assert (told.cause, told.message, told.do) == (
        "uncertain",
        "the run of 2026-05-16 shows one field to the last digit at every current",
        "look whether the logger took what the sensor showed; log the run again",
    )


def test_a_current_that_flows_backwards_is_no_reading() -> None:
    rows = ", ".join(f"[{t}, {-a}, {x}, {y}, {z}]" for (t, a), (x, y, z) in zip(STEPS, FIELD, strict=True))
    told = expect(Unproven, answer(MANIFEST.replace("ROWS", rows), "interference/heading-error"))
    assert (told.cause, told.message) == (
        "uncertain", "the run of 2026-05-16 shows -20.0 A, flowing backwards: a wrong sign or zero",
    )
