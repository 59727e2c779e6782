"""The greatest current that the sensor can show: a reading beyond it comes from another aircraft or another setting."""

from preflint.api import HOVER_LOG, Aircraft, Context, Known, Place, Related, Unproven, records

from ..shared.loaded_run import again

ROUNDING = 1.01  # last digits, and a full scale that is a per cent out; common practice, no source


def greatest_readable_a(aircraft: Aircraft, in_force: records.InForce) -> tuple[float, Place] | None:
    """Amperes at which the input reads its full scale, and the place of the scale that this rests on.

    (``input_full_scale_mv`` - ``zero_mv``) / ``sensor_mv_per_a``, zero and scale as they were in force where
    recorded, else as installed. None where one of the three is recorded nowhere, or no current can be shown.
    """
    if not isinstance(aircraft.power_sensing, Known):
        return None
    installed = aircraft.power_sensing.value
    full_scale = installed.input_full_scale_mv
    zero = in_force.zero_mv if isinstance(in_force.zero_mv, Known) else installed.zero_mv
    scale = in_force.sensor_mv_per_a if isinstance(in_force.sensor_mv_per_a, Known) else installed.sensor_mv_per_a
    if not (isinstance(full_scale, Known) and isinstance(zero, Known) and isinstance(scale, Known)):
        return None
    if full_scale.value <= zero.value:
        return None
    return (full_scale.value - zero.value) / scale.value, scale.place


def beyond_sensor(
    on: Context,
    record: records.InterferenceRun | records.CurrentComparison | records.Hover,
    amperes: float,
    place: Place | None = None,
) -> Unproven | None:
    """Why readings up to ``amperes`` cannot be this sensor's; None where they can, or nobody recorded its range.

    ``place``: where the reading stands, if not at the record as a whole.
    """
    readable = greatest_readable_a(on.aircraft, record.in_force)
    if readable is None or amperes <= readable[0] * ROUNDING:
        return None
    message = (
        f"the readings of {record.date.value} go up to {amperes:.1f} A; the sensor as set then shows "
        f"{readable[0]:.1f} A at most"
    )
    how = (
        "look whether the readings are of this aircraft; compare sensor_mv_per_a, zero_mv and input_full_scale_mv "
        "with what was set; then take the readings again"
    )
    evidence = f"(input_full_scale_mv - zero_mv) / sensor_mv_per_a = {readable[0]:.1f} A"
    related = (Related(readable[1], "the sensor's scale"),)
    precaution = HOVER_LOG if isinstance(record, records.Hover) else again(record)
    return Unproven(
        cause="uncertain",
        place=place or record.place,
        message=message,
        do=how,
        evidence=evidence,
        related=related,
        mind=precaution,
    )
