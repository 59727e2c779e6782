"""The compass: under load, along known directions, turned through all attitudes."""

from typing import Literal

from preflint.aircraft.dated import FIELD_IS, INSTRUMENT, LOAD, SETTINGS_IN_FORCE, Dated, InForce, Reference
from preflint.aircraft.declare import columns, kind, like, says
from preflint.aircraft.field import Field
from preflint.aircraft.rung import Rung
from preflint.aircraft.words import Route
from preflint.frozen import dataclass
from preflint.load.tables.table import Table
from preflint.precautions import ANY_LOADED_RUN, DESK, FIELD_CHECK, SETTINGS


@kind(
    "Interference run",
    take=(
        "log time, current and field: motors still, five steps or more of ten seconds and two rows each up to hover "
        "or more, motors still again; payload on, away from steel"
    ),
    mind=ANY_LOADED_RUN, speaks_for="aircraft", rung=Rung.LOAD, minutes=20,
    asks=(
        "route", "field_is", "in_force.sensor_mv_per_a", "magnetic_restraint", "steel_nearby", "payload_on",
        "table",
    ),
)
class InterferenceRun(Dated):
    """Current and magnetic field logged while the throttle goes up in steps. Columns current_a, field_x_ut,
    field_y_ut, field_z_ut (or _mgauss; forward, right, down), and time_s and throttle_percent.
    """

    route: Field[Route] = like(LOAD)
    field_is: Field[Literal["raw", "compensated"]] = like(
        FIELD_IS, do="say whether the logged field already had the offset added", mind=DESK,
    )
    in_force: InForce = like(SETTINGS_IN_FORCE)
    magnetic_restraint: Field[bool] = says(
        "Magnetic restraint", "true where anything that held the aircraft down attracts a magnet.",
        do="say whether anything that held the aircraft down attracts a magnet", mind=DESK, examples=[False],
    )
    steel_nearby: Field[bool] = says(
        "Steel nearby", "true where a bench, floor or vehicle of steel was within two metres.",
        do="say whether a bench, floor or vehicle of steel was within two metres", mind=DESK, examples=[False],
    )
    payload_on: Field[bool] = says(
        "Payload on", "true where the payload was on.",
        do="say whether the payload was on", mind=DESK, examples=[True],
    )
    table: Field[Table] = columns(
        "time_s?",
        "throttle_percent?",
        "current_a",
        "field_x_ut|field_x_mgauss",
        "field_y_ut|field_y_mgauss",
        "field_z_ut|field_z_mgauss",
    )


@kind(
    "Heading check",
    take="point the nose along eight directions, 45° apart, by a map line and read the heading",
    mind=FIELD_CHECK, speaks_for="aircraft", rung=Rung.LOAD, minutes=10,
    asks=("reference.accuracy_deg", "table"),
)
class HeadingCheck(Dated):
    """The nose pointed along known directions. Columns true_deg and indicated_deg, clockwise from the same north."""

    reference: Reference = like(INSTRUMENT)
    table: Field[Table] = columns("true_deg", "indicated_deg", rows=8)


@kind(
    "Compass rotation", take="log the field while the aircraft is turned through all attitudes",
    mind=FIELD_CHECK, speaks_for="aircraft", rung=Rung.LOAD, minutes=10,
    asks=("field_is", "in_force.hard_iron_ut", "table"),
)
class CompassRotation(Dated):
    """The field logged while the aircraft is turned through all attitudes. Columns field_x_ut, field_y_ut, field_z_ut
    (or _mgauss; forward, right, down), and time_s.
    """

    field_is: Field[Literal["raw", "compensated"]] = like(
        FIELD_IS, do="say whether the logged field already had the corrections added", mind=DESK,
    )
    in_force: InForce = like(SETTINGS_IN_FORCE)
    table: Field[Table] = columns(
        "time_s?", "field_x_ut|field_x_mgauss", "field_y_ut|field_y_mgauss", "field_z_ut|field_z_mgauss",
        do="log the field while the aircraft is turned through all attitudes", mind=SETTINGS,
    )


@dataclass(frozen=True)
class MagneticRecords:
    """The records of the field, the heading and the pressure, each kind in the order written."""

    interference_run: tuple[InterferenceRun, ...]
    heading_check: tuple[HeadingCheck, ...]
    compass_rotation: tuple[CompassRotation, ...]
