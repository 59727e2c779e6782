"""A compass that was taken off leaves its records behind, and breaks nothing."""

from making.manifests import opening

from preflint.testing import computed, inspect_text

MANIFEST = opening() + """\
site: {latitude_deg: 54.41, longitude_deg: -2.94, elevation_m: 212}
every_rotor: {motor: {full_throttle_draw_a: 17}}
power_sensing: {sensor_mv_per_a: 20}
compass: none
records:
  interference_run:
    - date: 2026-05-16
      field_is: raw
      in_force: {sensor_mv_per_a: 20}
      columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]
      rows: [[0, 0, 9.0, 24.4, 38.2], [40, 10, 9.6, 23.5, 38.5], [60, 20, 10.2, 22.6, 38.9], [0, 0, 9.0, 24.4, 38.2]]
"""


def test_a_run_from_before_the_compass_was_taken_off() -> None:
    inspected = inspect_text(MANIFEST)
    assert inspected.broken == ()
    assert computed(inspected, "field_total_ut").value > 40
    assert not [item for item in inspected.computed if item.quantity == "heading_error_deg"]
