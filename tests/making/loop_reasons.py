"""Why a go aircraft stays go with one thing written otherwise: each change that does, by what is done and where.

A field that is declared as not judged needs no entry here: its reason stands in its declaration.
"""

import re
from dataclasses import dataclass

from making.loops import Change


@dataclass(frozen=True, slots=True)
class Reason:
    """``how`` and ``words`` are regular expressions; in ``words`` a * stands for itself.

    ``told`` are README's own words for it: what cannot be known, has no rule or is a hole is told there.
    """

    group: str
    how: str
    words: str
    why: str
    told: str = ""

    def covers(self, change: Change) -> bool:
        return bool(
            re.fullmatch(self.how, change.how) and re.fullmatch(self.words.replace("*", r"\*"), change.words)
        )


_UNCERTAIN, _UNKNOWABLE = "within what is uncertain", "cannot be known"
_HARMLESS, _NOT_WAITED_FOR, _NO_RULE = "harmless", "flight does not wait for it", "no rule yet"
KNOWN_HOLES = "known hole"
TOLD = (_UNKNOWABLE, _NO_RULE, KNOWN_HOLES)

_ANY = r"times .*"
_LITTLE = r"times (0\.9|1\.1)"
_COLUMN = r"(column|one row) times .*"
_EARLIER = r"-\d+ days"

REASONS = (
    # A little more or less.
    Reason(
        _UNCERTAIN, _ANY, r"every_rotor.motor.full_throttle_draw_a",
        "the run comes close enough to it, or is small",
    ),
    Reason(_UNCERTAIN, r"times (0\.5|0\.9|1\.1)", r"every_rotor.prop.diameter_in", "the hover's power bears either"),
    Reason(_UNCERTAIN, _LITTLE, r"records.hover.*.(mean_current_a|mean_voltage_v|takeoff_mass_g)", "as it is known"),
    Reason(
        _UNCERTAIN, r"times (0\.5|0\.9|1\.1)", r"records.hover.*.in_force.(sensor_mv_per_a|zero_mv)",
        "the power of a hover and its throttle bear either",
    ),
    Reason(_UNCERTAIN, _LITTLE, r"site.latitude_deg", "the field there is alike"),
    Reason(_UNCERTAIN, _ANY, r"site.elevation_m", "the weather moves the pressure by as much"),
    Reason(_UNCERTAIN, _ANY, r"site.longitude_deg", "the strength of the field there is alike, and all of it is told"),
    Reason(_UNCERTAIN, _ANY, r"site.temperature_c", "any that is flown in is allowed for"),
    Reason(_UNCERTAIN, r"times .*", r"compass.interference_offset_ut_per_a.*", "what is left over is within its limit"),
    Reason(_UNCERTAIN, _ANY, r"compass.(hard_iron_ut.*|soft_iron.*.*)", "the heading check decides"),
    Reason(
        _UNCERTAIN, r"(column|one row) times (0\.9|1\.1)", r"records.interference_run.*.(current_a|field_[xyz]_ut)",
        "what is left over is small",
    ),
    Reason(
        _UNCERTAIN, r"one row times 0\.5", r"records.interference_run.*.current_a",
        "where the run leaves room below its limit one row does not fill it, and its scatter is counted",
    ),
    Reason(_UNCERTAIN, _ANY, r"records.\w+.*.reference.(accuracy|resolution)_\w+", "a floor, or still good enough"),
    Reason(_UNCERTAIN, _ANY, r"satellite_receiver.accuracy_m", "the check at a known place decides"),
    Reason(
        _UNCERTAIN, r"times (0\.5|0\.9|1\.1|2)", r"records.link_loss_test.*.seconds_to_stop",
        "within the time allowed",
    ),
    # The look after a flight.
    Reason(_HARMLESS, r"warm to cool", r"records.after_flight_look.*.motors.\w+", "none of them is hot"),
    Reason(
        _UNCERTAIN, r"times (0\.1|0\.5|0\.9|1\.1)", r"records.after_flight_look.*.motors_c.[\w-]+",
        "cooler, or as warm as the others",
    ),
    Reason(_UNCERTAIN, _LITTLE, r"records.after_flight_look.*.output_percent.[\w-]+", "as hard as the others"),
    Reason(_HARMLESS, _ANY, r"records.after_flight_look.*.pack_c", "not hot"),
    Reason(_HARMLESS, _ANY, r"records.after_flight_look.*.minutes", "only told"),
    # Papers.
    Reason(_HARMLESS, r"[-+]\d+ days", r"papers.\w+_until", "they still hold, or end soon"),
    Reason(_NOT_WAITED_FOR, r"true to false", r"papers.label_on_aircraft", "local law decides"),
    # Days and pasted entries.
    Reason(_HARMLESS, r"[-+]\d+ days", r"logbook.*.date", "every record is later, or it is the flight"),
    Reason(_HARMLESS, r"fitted to .*|flown to .*", r"logbook.*.kind", "every record is later, or it is the flight"),
    Reason(_HARMLESS, r"power-lead to .*", r"logbook.*.part", "every record is later"),
    Reason(
        _UNKNOWABLE, r"[-+](1|30) days", r"records.\w+.*.date",
        "no work came between, and a day is what was written",
        "the day of a test",
    ),
    Reason(_HARMLESS, _EARLIER, r"records.rig_check.*.date", "nothing was run in the inverted rig since"),
    Reason(
        _UNKNOWABLE, r"pasted under a new date", r"records.\w+.*",
        "a test may come out as it did before", "pasted under a new date",
    ),
    Reason(
        _NOT_WAITED_FOR, _EARLIER,
        r"records.(after_flight_look|bell_pull|cell_voltages|compass_rotation|hover|pack_check|polarity_check|prop_balance"
        r"|prop_look|range_test|recharge|rotor_speeds|sag_run|saved_settings|six_positions|stick_check).*.date",
        "too old, it is history",
    ),
    # The way home and the link.
    Reason(_UNCERTAIN, _ANY, r"plan.(farthest|height)_m", "nearer, lower, or with enough to spare"),
    Reason(_UNCERTAIN, _ANY, r"return.(height|fence_radius|fence_height)_m", "higher or farther than is needed"),
    Reason(
        _UNKNOWABLE, r"\S+ to \S+", r"return.on_link_loss",
        "what is set in the flight controller", "what it is set to do",
    ),
    Reason(_UNCERTAIN, _ANY, r"site.highest_obstacle_m", "lower than it comes home, or not read where it lands"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.range_test.*.reduced_by_db", "more to spare, or enough"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.position_check.*.(satellites|hdop|minutes_on)", "enough, or good enough"),
    Reason(_NOT_WAITED_FOR, _COLUMN, r"records.position_check.*.(latitude|longitude)_deg", "the shown one is read"),
    # The logbook.
    Reason(_HARMLESS, r"flown .*|stored .*", "logbook", "neither ends what flight needs, whatever part it names"),
    Reason(
        _UNKNOWABLE, r"(fitted|removed|replaced|moved) pack.*", "logbook",
        "a pack is changed before every flight", "the pack of that label",
    ),
    Reason(_HARMLESS, r"moved (frame|receiver).*", "logbook", "the range test asks for itself, a frame is carried"),
    Reason(_HARMLESS, r"rewired (nut|prop|adapter).*", "logbook", "nothing is wired there"),
    Reason(
        _HARMLESS, r"(reset|settings-changed|firmware) (pack|payload|regulator).*", "logbook",
        "no record speaks for their settings",
    ),
    Reason(
        _HARMLESS, r"(rewired|reset|settings-changed|firmware) satellite-receiver.*", "logbook",
        "the aircraft does not rely on its position",
    ),
    # Ratings and clearance, within what they bear.
    Reason(_HARMLESS, _ANY, r"aircraft.arm_mm", "the props clear each other all the same"),
    Reason(_HARMLESS, _ANY, r"every_rotor.(tip_gap_mm|motor.kv_rpm_per_v)", "clear enough; a figure"),
    Reason(
        _HARMLESS, _ANY, r"every_rotor.esc.(continuous_a|max_cells)|packs.*.(capacity_mah|rated_c|\w*lead.\w+|"
        r"connector_continuous_a)|regulator.\w+", "still rated for what flows, or for the pack",
    ),
    # What nobody but the builder can know.
    Reason(
        _UNKNOWABLE, r"\S+ to \S+", r"records.\w+.*.route",
        "how the load was made is seen by who was there", "by which route a load was made",
    ),
    Reason(
        _UNKNOWABLE, _COLUMN, r"records.(current_comparison|interference_run).*.throttle_percent",
        "only in order", "at which throttle and second",
    ),
    Reason(
        _UNKNOWABLE, _COLUMN, r"records.interference_run.*.time_s",
        "only the order and a drift are read from it", "at which throttle and second",
    ),
    Reason(_UNCERTAIN, _ANY, r"records.hover.*.throttle_percent", "its rules compare it with the mass and the motors"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.hover.*.(height_m|wind_m_s|duration_s)", "the power of a hover"),
    Reason(_HARMLESS, _ANY, r"power_sensing.input_(bits|full_scale_mv)", "a last digit is seen in the readings"),
    Reason(_HARMLESS, _ANY, r"every_rotor.motor.shaft_mm", "read where a collet or a set-screw grips it"),
    Reason(
        _UNCERTAIN, r"times (0\.9|1\.1|2|10)", r"every_rotor.motor.max_thrust_g",
        "enough is left, and no upper bound of a motor's thrust is known",
    ),
    Reason(_UNCERTAIN, _ANY, r"aircraft.arm_mm", "the weight acts so near the centre that any arm holds it"),
    # Read only by rules that flight does not wait for.
    Reason(_NOT_WAITED_FOR, _COLUMN, r"records.balance_point.*.(forward_mm|right_mm)", "well within what is held"),
    Reason(_NOT_WAITED_FOR, _EARLIER, r"records.balance_point.*.date", "too old, it is history"),
    Reason(_NOT_WAITED_FOR, _COLUMN, r"records.sag_run.*.(current_a|voltage_v|used_mah)", "its rule is left open"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.sag_run.*.dwell_s", "long enough, or its rule is left open"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.sag_run.*.temperature_c", "two runs, or a colder pack, are compared by it"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.cell_voltages.*.(rested_min|temperature_c)", "advice, or long enough"),
    Reason(
        _UNKNOWABLE, _ANY, r"records.pack_check.*.straps",
        "how many straps hold it is seen by who was there", "how many straps hold the pack",
    ),
    Reason(_UNCERTAIN, r"times (0\.9|1\.1|2|10)", r"records.pack_check.*.temperature_c", "warm enough"),
    Reason(_NOT_WAITED_FOR, r"times (2|10)", r"records.recharge.*.put_back_mah", "more than the pack holds is open"),
    Reason(_NOT_WAITED_FOR, r"true to false", r"records.\w+.*.(full|full_before)", "its rule is left open"),
    Reason(_NOT_WAITED_FOR, r"true to false", r"records.range_test.*.reduced_power", "its rule is left open"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.range_test.*.distance_m", "too near, its rule is left open"),
    Reason(_NOT_WAITED_FOR, r"raw to compensated", r"records.compass_rotation.*.field_is", "the heading check decides"),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.compass_rotation.*.in_force.hard_iron_ut.*", "the log is of the raw field"),
    Reason(
        _NOT_WAITED_FOR, r"times (0\.5|0\.9|1\.1)", r"records.stick_check.*.start_throttle_percent.*", "alike enough"
    ),
    Reason(
        _NOT_WAITED_FOR, _ANY, r"every_rotor.motor.screws.(hole_depth|length|plate)_mm",
        "neither too long nor short",
    ),
    Reason(_NOT_WAITED_FOR, _ANY, r"every_rotor.prop.(pitch_in|blades)", "only the throttle is worked out with it"),
    # The weather of the day.
    Reason(_UNCERTAIN, _ANY, r"limits_of_aircraft.\w+", "the day's wind and air leave room below it"),
    Reason(_HARMLESS, r"\S+ to \S+", r"limits_of_aircraft.rain", "the day is dry"),
    Reason(_UNCERTAIN, _ANY, r"plan.height_m", "the wind grows slowly with height"),
    Reason(
        _NOT_WAITED_FOR, _ANY,
        r"(every_rotor.motor.kv_rpm_per_v|records.rotor_speeds.*.(rpm.*|throttle_percent|voltage_v))",
        "a speed that the motor can have, or its rule is left open",
    ),
    Reason(_NOT_WAITED_FOR, _ANY, r"records.prop_balance.*.residual_g_mm", "within its grade, or left open"),
    Reason(_NOT_WAITED_FOR, r"\S+ to \S+", r"records.(prop_balance|prop_look).*.at", "seen by who was there"),
    Reason(
        _NOT_WAITED_FOR, _COLUMN, r"records.six_positions.*.accel_[xyz]_m_s2", "little enough, or its rule is left open"
    ),
    Reason(_UNCERTAIN, _ANY, r"barometer.accuracy_hpa", "the error keeps to it, or an advisory tells of it"),
    # Topics that are not there.
    Reason(
        _NO_RULE, _ANY, r"(every_rotor.(motor|prop)|packs.*).mass_g",
        "of the parts it is asked only that they weigh less in all",
        "the mass of a single part",
    ),
    Reason(_UNCERTAIN, _ANY, r"packs.*.capacity_mah", "what was put back, and warnings of volts, bear either"),
    Reason(_NOT_WAITED_FOR, r".*", r"plan.\w+", "a plan of less, or one that the charge still bears or cannot tell of"),
    Reason(_NOT_WAITED_FOR, r".*", r"battery_warnings.*(.\w+)?", "another warning comes, or this one still in time"),
    Reason(_NOT_WAITED_FOR, r".*", r"records.warning_test.*(.\w+)?", "whether a warning was tried"),
    Reason(_NOT_WAITED_FOR, r".*", r"logbook.*.(minutes|put_back_mah|pack)", "what a flight took"),
    # What a rule could find and does not.
    Reason(
        KNOWN_HOLES, r"times 0\.1", r"records.hover.*.in_force.zero_mv",
        "a hover that comes to less than no current is left open, and flight is bounded without it",
        "make it less than no current",
    ),
)
