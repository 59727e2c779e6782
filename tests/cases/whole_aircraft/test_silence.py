"""Missing evidence is never a pass: whatever one thing is left out, no aircraft comes out better than it was."""

import re
from pathlib import Path
from zlib import crc32

import pytest
from making import silence
from making.manifests import GO

from preflint.api import Clear

changed, club_aircraft, judged = silence.changed, silence.club_aircraft, silence.judged

ASKED = Path(__file__).parents[2] / "golden" / "asked.txt"

# What a go aircraft of the club may leave out and still be one, as it is today, by the reason. A * in a name stands
# for any entry of a list, or any position.
READ_BY_RULES_THAT_FLIGHT_DOES_NOT_WAIT_FOR = {  # these rules answer that it is not recorded, or are not asked
    "every_rotor.motor.max_thrust_g", "records.balance_point", "records.balance_point.*",
    "every_rotor.motor.screws", "every_rotor.motor.screws.size", "every_rotor.motor.screws.length_mm",
    "every_rotor.motor.screws.plate_mm", "every_rotor.motor.screws.hole_depth_mm",
    "aircraft.arm_mm", "every_rotor.tip_gap_mm", "every_rotor.esc.continuous_a", "every_rotor.esc.max_cells",
    "packs.*.capacity_mah", "packs.*.rated_c", "packs.*.lead", "packs.*.lead.gauge_awg",
    "packs.*.connector_continuous_a", "regulator", "regulator.continuous_a", "regulator.least_v", "regulator.load_a",
    "regulator.most_v",
    "every_rotor.esc", "every_rotor.esc.spin_set_by", "every_rotor.prop.make", "every_rotor.prop.batch",
    "every_rotor.prop.pitch_in", "every_rotor.prop.blades", "every_rotor.prop.bore_mm", "every_rotor.fixing.nut_kind",
    "every_rotor.fixing.thread_past_locknut", "every_rotor.fixing.prop_slips", "every_rotor.fixing.seat_mm",
    "every_rotor.fixing.centring_ring", "flight_controller", "flight_controller.expects_spin",
    "flight_controller.expects_spin.*", "packs.*.label", "power_sensing.input_full_scale_mv",
    "records.spin_test.*.props", "records.output_test.*.props", "records.bell_pull", "records.bell_pull.*",
    "records.stick_check.*.moves.*", "records.stick_check.*.moves.*.sped_up", "records.stick_check.*.moves.*.sped_up.*",
    "records.stick_check.*.start_throttle_percent", "records.stick_check.*.start_throttle_percent.*",
    "records.stick_check.*.arms_at_raised_throttle", "records.range_test", "records.range_test.*",
    "records.range_test.*.control_held", "records.interference_run.*.route",
    "records.interference_run.*.magnetic_restraint", "records.interference_run.*.steel_nearby",
    "records.interference_run.*.payload_on", "records.hover.*.mean_voltage_v", "records.hover.*.duration_s",
    "records.hover.*.height_m", "records.hover.*.wind_m_s", "compass.soft_iron",
    "records.compass_rotation", "records.compass_rotation.*", "records.compass_rotation.*.field_is",
    "records.cell_voltages", "records.cell_voltages.*", "records.cell_voltages.*.pack_v",
    "records.cell_voltages.*.full", "records.cell_voltages.*.reference",
    "records.cell_voltages.*.reference.accuracy_percent", "records.sag_run", "records.sag_run.*",
    "records.sag_run.*.dwell_s", "records.recharge", "records.recharge.*", "records.recharge.*.full_before",
    "records.recharge.*.in_force", "records.recharge.*.in_force.sensor_mv_per_a",
    "records.recharge.*.reference", "records.recharge.*.reference.accuracy_percent",
    "records.cell_voltages.*.rested_min", "records.cell_voltages.*.temperature_c", "records.pack_check",
    "records.pack_check.*", "records.pack_check.*.rocks_on_flat", "records.pack_check.*.straps",
    "records.pack_check.*.latched", "records.pack_check.*.tug_moved", "records.pack_check.*.plug_tug_moved",
    "records.pack_check.*.leads_clear", "records.pack_check.*.cells_v", "records.pack_check.*.cells_v.*",
    "records.pack_check.*.temperature_c", "records.pack_check.*.reference",
    "records.pack_check.*.reference.accuracy_percent", "records.polarity_check.*.polarity_right",
    "records.polarity_check.*.shorted",
    "records.warning_test", "records.warning_test.*", "plan",
    "logbook.*.put_back_mah",
    "every_rotor.motor.kv_rpm_per_v", "records.rotor_speeds", "records.rotor_speeds.*",
    "records.rotor_speeds.*.throttle_percent", "records.rotor_speeds.*.voltage_v", "records.rotor_speeds.*.rpm",
    "records.prop_balance", "records.prop_balance.*",
    "records.prop_balance.*.residual_g_mm", "records.six_positions", "records.six_positions.*",
    "records.prop_look", "records.prop_look.*",
    "return", "return.on_link_loss", "records.range_test.*.reduced_by_db",
    "records.position_check.*.satellites", "records.position_check.*.hdop",
    "records.after_flight_look", "records.after_flight_look.*", "records.after_flight_look.*.motors",
    "records.after_flight_look.*.motors_c", "records.after_flight_look.*.nuts_moved",
    "limits_of_aircraft", "limits_of_aircraft.least_c", "limits_of_aircraft.most_c",
}  # fmt: skip
TAKES_A_QUESTION_AWAY = {
    "aircraft.relies_on.*": "says that the aircraft does not rely on it",
    "logbook": "work that nobody wrote down cannot be known",
    "logbook.*": "work that nobody wrote down cannot be known",
    "logbook.*.date (time of day)": "nothing else happened on that day, or the order does not matter",
    "papers": "local law decides which are needed",
    "papers.*": "local law decides which are needed",
    "records.saved_settings": "with fewer than two there is nothing to compare",
    "records.saved_settings.*": "with fewer than two there is nothing to compare",
    "records.after_flight_look.*.output_percent": "a log that not everybody keeps",
    "records.after_flight_look.*.output_percent.*": "a log that not everybody keeps",
    "records.after_flight_look.*.pack_c": "a thermometer that not everybody has",
    "records.after_flight_look.*.motors_c.*": "the rule says that no look at that motor is recorded",
    "records.rig_check": "no run was, or may have been, in the inverted rig",
    "records.rig_check.*": "no run was, or may have been, in the inverted rig",
}
SAID_BY_OTHER_MEANS_OR_NOT_JUDGED = {
    "plan.*": "flight does not wait for the plan, and what is left of it is judged",
    "limits_of_aircraft.*": "the other limits are compared with the day",
    "logbook.*.minutes": "hours are then told as so many at least",
    "aircraft.relies_on": "left out it means everything that is fitted",
    "aircraft.arm_mm": "all arms of a named layout are equally long; where the weight acts is then left open",
    "site.name": "a name",
    "site.station_pressure_hpa": "worked out from the elevation",
    "site.temperature_c": "any that is flown in is allowed for",
    "every_rotor.motor.make": "a name",
    "every_rotor.esc.make": "a name",
    "flight_controller.make": "a name",
    "records.*.*.reference.instrument": "a name",
    "records.rig_check.*.by": "a name",
    "logbook.*.note": "a note",
    "records.*.*.pack": "a name; the aircraft has one pack",
    "every_rotor.motor.shaft_mm": "read where a collet or a set-screw grips it",
    "every_rotor.motor.mass_g": "a lower bound of the mass, which is then not asked",
    "every_rotor.esc.active_braking": "read where a nut is plain",
    "every_rotor.prop.hub": "read where a prop has been inverted",
    "every_rotor.prop.mass_g": "a lower bound of the mass, which is then not asked",
    "every_rotor.fixing.thread_size": "read for a mark of a left hand; the way the nut tightens is recorded",
    "packs.*.lead.insulation_c": "taken as PVC",
    "packs.*.lead.one_way_length_mm": "asked for beside a sag run",
    "packs.*.capacity_mah": "warnings of volts need none, and flight does not wait for the plan",
    "battery_warnings.*": "another one warns",
    "battery_warnings.*.does": "only compared with what another one does",
    "battery_warnings.*.at_cell_v": "another one warns",
    "battery_warnings.*.at_used_mah": "another one warns",
    "records.warning_test.*.watches": "one warning is set, or any was heard",
    "logbook.*.pack": "a name; the aircraft has one pack",
    "power_sensing.input_bits": "a last digit is seen in the readings",
    "compass.hard_iron_ut": "the heading check decides",
    "barometer": "relied on all the same, and checked",
    "barometer.accuracy_hpa": "the check against another barometer decides",
    "satellite_receiver": "not relied on",
    "satellite_receiver.accuracy_m": "the dilution of the day is taken",
    "site.highest_obstacle_m": "read where it comes home",
    "plan.height_m": "compared with a fence only",
    "return.fence_radius_m": "left out where no fence is set",
    "return.fence_height_m": "left out where no fence is set",
    "records.position_check.*.minutes_on": "read where the position is off",
    "satellite_receiver.make": "a name",
    "records.hover": "full throttle bounds it: no hover is needed before the first",
    "records.hover.*": "full throttle bounds it, as above",
    "records.hover.*.mean_current_a": "full throttle bounds it, as above",
    "records.*.*.props": "a test with props on is dangerous, and shows the same",
    "records.after_flight_look.*.minutes": "only told",
    "records.range_test.*.distance_m": "control was held at reduced power",
    "records.range_test.*.reduced_power": "control was held",
    "records.stick_check.*.moves.*.indicated": "the rotors that answered say more",
    "records.*.*.rows.*": "the other rows decide, within wider bounds",
    "records.*.*.reference.resolution_*": "the last digit written is taken",
    "records.current_comparison.*.reference.zero_a": "taken as out by ammeter_zero_a at most",
    "records.heading_check.*.reference": "heading_reference_accuracy is taken instead, and the evidence says so",
    "records.heading_check.*.reference.accuracy_deg": "heading_reference_accuracy is taken instead, as above",
    "records.current_comparison.*.route": "nothing was inverted, or the rig was looked at since",
    "records.sag_run.*.route": "the rig was looked at since, or no run may have been inverted",
    "records.sag_run.*.temperature_c": "read where two runs, or a colder pack, are compared",
    "records.polarity_check": "the pack was plugged in since",
    "records.polarity_check.*": "the pack was plugged in since",
    "packs.*.mass_g": "a lower bound of the mass, which is then not asked",
    "records.compass_rotation.*.in_force": "the log is of the raw field",
    "records.compass_rotation.*.in_force.hard_iron_ut": "the log is of the raw field",
    "records.hover.*.throttle_percent": "no rule reads it here",
    "records.hover.*.takeoff_mass_g": "taken as that of the aircraft",
    "records.hover.*.in_force": "taken as the settings installed",
    "records.hover.*.in_force.sensor_mv_per_a": "taken as the setting installed",
    "records.hover.*.in_force.zero_mv": "taken as the setting installed",
    "records.rotor_speeds.*.rpm.*": "the other rotors are compared, and flight does not wait for it",
    "records.*.*.date (time of day)": "nothing else happened on that day, or the order does not matter",
}


def reason(words):
    """Why it may be left out, or None. A * in the lists stands for one step."""
    if words in READ_BY_RULES_THAT_FLIGHT_DOES_NOT_WAIT_FOR:
        return "read by rules that flight does not wait for"
    for name, why in {**TAKES_A_QUESTION_AWAY, **SAID_BY_OTHER_MEANS_OR_NOT_JUDGED}.items():
        if re.fullmatch(re.escape(name).replace(r"\*", r"[^.]+"), words):
            return why
    return None


@pytest.mark.parametrize("share", range(4))
def test_leaving_out_one_thing_of_a_go_aircraft_ends_it_or_stands_in_the_list(share):
    seen, still_go, told = set(), {}, set()
    for name in GO:
        document = club_aircraft(name)
        verdict, before = judged(document)
        assert verdict == "go"
        for words, steps, without in list(silence.left_out(document, seen)):
            seen.add(words)
            if crc32(words.encode()) % 4 != share:
                continue
            verdict, after = judged(without)
            told.update(silence.asks(after))
            if verdict != "go":
                continue
            still_go[words] = reason(words) or f"NO REASON: {name} without {steps}"
            if words in READ_BY_RULES_THAT_FLIGHT_DOES_NOT_WAIT_FOR:
                assert any(
                    isinstance(told, Clear) and not isinstance(after.get(subject), Clear)
                    for subject, told in before.items()
                ), f"{name} without {steps}: every rule is as content as before"
    print("\n".join(f"{words}: {why}" for words, why in sorted(still_go.items())))
    assert not [why for why in still_go.values() if why.startswith("NO REASON")]
    # What is asked for then is as it was, word for word; the folder golden says how it is renewed.
    assert told - {*ASKED.read_text(encoding="utf-8").splitlines()} == set()
