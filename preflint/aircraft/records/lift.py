"""Thrust and speed of the rotors, and what the aircraft draws while they lift."""

from collections.abc import Mapping

from preflint.aircraft.dated import LOAD, PACK_LABEL, ROTOR, SETTINGS_IN_FORCE, Dated, InForce
from preflint.aircraft.declare import columns, kind, like, says
from preflint.aircraft.field import Field, Known
from preflint.aircraft.rung import Rung
from preflint.aircraft.words import Position, Route
from preflint.frozen import dataclass
from preflint.load.tables.table import Table
from preflint.precautions import ANY_LOADED_RUN, DESK, HOVER_LOG, THRUST_STAND


@kind(
    "Thrust stand", take="measure thrust, current and voltage on a stand in steps of throttle",
    mind=THRUST_STAND, speaks_for="rotors", rung=Rung.LOAD, minutes=30,
    asks=("at", "table"),
)
class ThrustStand(Dated):
    """One motor with its prop on a stand. Columns thrust_g, current_a and voltage_v, and throttle_percent and rpm."""

    at: Field[Position] = like(ROTOR, do="say which rotor it was", mind=DESK)
    table: Field[Table] = columns("throttle_percent?", "thrust_g", "current_a", "voltage_v", "rpm?", rows=5)


@kind(
    "Rotor speeds", take="read every rotor's speed at one throttle",
    mind=ANY_LOADED_RUN, speaks_for="rotors", rung=Rung.LOAD, minutes=15,
    asks=("throttle_percent", "rpm"),
)
class RotorSpeeds(Dated):
    """How fast each rotor turned at one throttle."""

    throttle_percent: Field[float] = says(
        "Throttle", "Throttle at which the speeds were read. In per cent.",
        do="say at what throttle", mind=DESK, least=0, most=100, examples=[45],
    )
    voltage_v: Field[float] = says(
        "Voltage", "Pack voltage meanwhile, in V.",
        do="read the pack voltage meanwhile", mind=ANY_LOADED_RUN, above=0, most=200, examples=[23.4],
    )
    rpm: Mapping[str, Known[float]] = says(
        "Speeds", "For each position the speed, in rpm.",
        do="optical tachometer or the speed controller's own count",
        least=0, most=200000, needed=True, examples=[{"front-left": 5120}],
    )


@kind(
    "Hover", take="log a steady hover", mind=HOVER_LOG, speaks_for="aircraft", rung=Rung.LOAD, minutes=10,
    asks=(
        "pack", "in_force.sensor_mv_per_a", "in_force.zero_mv", "takeoff_mass_g", "height_m", "wind_m_s",
        "duration_s", "mean_current_a", "mean_voltage_v", "throttle_percent",
    ),
)
class Hover(Dated):
    """A steady hover: means over duration_s."""

    mean_current_a: Field[float] = says(
        "Mean current", "In A.",
        do="average the logged current over a steady hover", mind=HOVER_LOG, above=0, most=1000, examples=[22.4],
    )
    mean_voltage_v: Field[float] = says(
        "Mean voltage", "In V.",
        do="average the logged pack voltage over the same seconds", mind=HOVER_LOG, above=0, most=200, examples=[22.9],
    )
    throttle_percent: Field[float] = says(
        "Throttle", "Mean throttle. In per cent.",
        do="average the logged throttle over the same seconds", mind=HOVER_LOG, least=0, most=100, examples=[45],
    )
    duration_s: Field[float] = says(
        "Duration", "In s.",
        do="say how long the hover was", mind=DESK, above=0, most=36000, examples=[60],
    )
    takeoff_mass_g: Field[float] = says(
        "Mass", "Mass as flown, in g.",
        do="weigh the aircraft as it flew", least=10, most=150000, examples=[2650],
    )
    height_m: Field[float] = says(
        "Height", "Height of the rotors above the ground, in m.",
        do="say how high the rotors were above the ground", mind=DESK, least=0, most=500, examples=[3],
    )
    wind_m_s: Field[float] = says(
        "Wind", "In m/s.",
        do="say how much wind there was", mind=DESK, least=0, most=60, examples=[1.5],
    )
    pack: Field[str] = like(PACK_LABEL)
    in_force: InForce = like(SETTINGS_IN_FORCE)


@kind(
    "Sag run",
    take=(
        "hold several currents for ten seconds each, up to hover current or more and down again, and note current, "
        "voltage and charge used at the end of each"
    ),
    mind=ANY_LOADED_RUN, speaks_for="aircraft", rung=Rung.LOAD, minutes=30,
    asks=("pack", "route", "dwell_s", "table"),
)
class SagRun(Dated):
    """Voltage under several steady currents. Columns current_a, voltage_v and used_mah."""

    pack: Field[str] = like(PACK_LABEL)
    route: Field[Route] = like(LOAD)
    dwell_s: Field[float] = says(
        "Dwell", "How long each current was held before reading, in s.",
        do="say how long each current was held before reading", mind=DESK, least=0, most=3600, examples=[10],
    )
    temperature_c: Field[float] = says(
        "Pack temperature", "Of the pack before the run, in degrees Celsius.",
        do="say how warm the pack was before the run", mind=DESK, least=-60, most=100, examples=[18],
    )
    table: Field[Table] = columns(
        "current_a", "voltage_v", "used_mah",
        do="hold several currents for some seconds each; note current, voltage and charge used", mind=ANY_LOADED_RUN,
        rows=6,
    )


@dataclass(frozen=True)
class LiftRecords:
    """The records of thrust, speeds and hovers, each kind in the order written."""

    thrust_stand: tuple[ThrustStand, ...]
    rotor_speeds: tuple[RotorSpeeds, ...]
    hover: tuple[Hover, ...]
    sag_run: tuple[SagRun, ...]
