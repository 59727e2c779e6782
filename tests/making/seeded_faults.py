"""The single faults that are seeded, and the rule that must find each; "?" where it must leave it open."""

from making import seeded_flight as flight
from making import seeded_measured as measured
from making.seeded import (
    Fault,
    calibrated_after,
    flip_in,
    log_entry,
    negate_offset,
    number,
    rotor_edit,
    scale_rows,
    swap,
    swap_outputs,
)

FAULTS = [
    Fault("first nut of the wrong hand", "retention/nut-hand",
          rotor_edit(0, "nut_tightens: {nut}", "nut_tightens: {!nut}", lambda r: "tightens {nut}")),
    Fault("last nut of the wrong hand", "retention/nut-hand",
          rotor_edit(-1, "nut_tightens: {nut}", "nut_tightens: {!nut}", lambda r: "tightens {nut}")),
    Fault("first prop of the wrong hand", "rotation/prop-state",
          rotor_edit(0, "hand: {hand}", "hand: {!hand}", lambda r: "{hand}")),
    Fault("last prop of the wrong hand", "rotation/prop-state",
          rotor_edit(-1, "hand: {hand}", "hand: {!hand}", lambda r: "{hand}")),
    Fault("first prop turned over", "rotation/prop-state", rotor_edit(0, "face: up", "face: down", lambda r: "up")),
    Fault("last prop turned over", "rotation/prop-state", rotor_edit(-1, "face: up", "face: down", lambda r: "up")),
    Fault("one prop left in the inverted rig", "rotation/prop-state",
          rotor_edit(1, "hand: {hand}, face: up", "hand: {!hand}, face: down", lambda r: "{hand}")),
    Fault("bag without a meaning", "retention/nut-hand?",
          rotor_edit(0, "nut_tightens: {nut}", "bag_says: {nut}", lambda r: "")),
    Fault(
        "marked LH or not, against the hand test", "retention/nut-evidence-agrees",
        rotor_edit(
            0, "nut_tightens: {nut}", "nut_tightens: {nut}, bag_says: {!nut}, bag_means: screwing", lambda r: ""
        ),
    ),
    Fault("first motor turns the other way in the test", "rotation/spin-seen", flip_in("seen", 0)),
    Fault("last motor turns the other way in the test", "rotation/spin-seen", flip_in("seen", -1)),
    Fault("flight controller expects the other spin", "rotation/expected-spin", flip_in("expects_spin", 1)),
    Fault("outputs swapped", "rotation/output-order", swap_outputs),
    Fault("tight nut, loose prop", "retention/prop-slips", swap("prop_slips: false", "prop_slips: true", "", "first")),
    Fault("no thread past the locknut", "retention/locknut-engaged",
          swap("thread_past_locknut: true", "thread_past_locknut: false", "", "first")),
    Fault("hole too wide for the seat", "retention/bore-fit", swap(r"bore_mm: 8.05", "bore_mm: 8.40", "", "first")),
    Fault("centring ring missing", "retention/centring-ring",
          swap("centring_ring: not-needed", "centring_ring: missing", "", "first")),
    Fault("motor screws reach the windings", "retention/motor-screw-too-long",
          swap("length_mm: 8", "length_mm: 10", "", "first", "length_mm: 10")),
    Fault("motor screws hold by two turns", "retention/motor-screw-engagement",
          swap("length_mm: 8", "length_mm: 5", "", "first", "length_mm: 5")),
    Fault(
        "a bell that comes off", "retention/bell-pull", swap("moved: false", "moved: true", "", "first", "moved: true")
    ),
    Fault("braking with plain nuts", "retention/braking-plain-nut",
          swap("nut_kind: locknut-new, thread_past_locknut: true", "nut_kind: plain", "", "first", "")),
    Fault("one prop of another size", "rotation/matched-size",
          rotor_edit(0, "face: up", "face: up, diameter_in: 9", lambda r: "")),
    Fault("spin set by a setting", "rotation/spin-by-setting", swap("spin_set_by: wires", "spin_set_by: setting", "")),
    Fault("props on in the spin test", "rotation/props-removed", swap("props: removed", "props: fitted", "removed")),
    Fault("voltage reads 2 % low", "power_sensing/voltage-scale",
          scale_rows("voltage_comparison", 1, 1.02, "divider_ratio", 1)),
    Fault("voltage reads 2 % high", "power_sensing/voltage-scale",
          scale_rows("voltage_comparison", 1, 0.98, "divider_ratio", 1)),
    Fault("divider setting changed after the test", "power_sensing/voltage-scale", number("divider_ratio", 1.03)),
    Fault("current reads 9 % low", "power_sensing/current-scale",
          scale_rows("current_comparison", 2, 1.09, "sensor_mv_per_a", -1)),
    Fault("current reads 9 % high", "power_sensing/current-scale",
          scale_rows("current_comparison", 2, 0.91, "sensor_mv_per_a", -1)),
    Fault("current setting changed after the test", "power_sensing/current-scale", number("sensor_mv_per_a", 1.12)),
    Fault("input range too small", "power_sensing/input-range",
          swap("input_full_scale_mv: 3300", "input_full_scale_mv: 1500", "", mark="divider_ratio: ")),
    Fault("a cell too few in the record", "power_sensing/cell-count", swap(r"cells: 4,", "cells: 3,", "", mark="")),
    Fault("interference offset with the wrong sign", "interference/offset-sign", negate_offset),
    Fault("magnetic hold-downs", "interference/run-conditions",
          swap("magnetic_restraint: false", "magnetic_restraint: true", "")),
    Fault("interference run over steel", "interference/run-conditions",
          swap("steel_nearby: false", "steel_nearby: true", "")),
    Fault("payload off in the interference run", "interference/run-conditions",
          swap("payload_on: true", "payload_on: false", "")),
    Fault(
        "battery tray moved", "freshness/stale-record", log_entry("{date: 2026-05-19, kind: moved, part: battery-tray}")
    ),
    Fault("a motor replaced", "freshness/stale-record",
          log_entry("{date: 2026-05-19, kind: replaced, part: motor, at: FIRST}")),
    Fault("flight controller reset", "freshness/stale-record",
          log_entry("{date: 2026-05-19, kind: reset, part: flight-controller}")),
    Fault("crashed", "freshness/stale-record", log_entry("{date: 2026-05-19, kind: crashed}")),
    Fault(
        "power lead rewired", "freshness/stale-record", log_entry("{date: 2026-05-19, kind: rewired, part: power-lead}")
    ),
    Fault("work dated after the day judged", "freshness/future-entry",
          log_entry("{date: 2026-06-01, kind: replaced, part: motor}")),
    Fault("current calibrated after the interference run", "freshness/current-before-interference", calibrated_after),
    Fault(
        "compass turned by a quarter", "compass/heading-check",
        swap(measured.HEADINGS, measured.read(*[90] * 8), ""),
    ),
    Fault(
        "barometer 8 hPa off", "barometer/indicated-pressure", swap("indicated_hpa: 991.6", "indicated_hpa: 999.6", "")
    ),
    Fault(
        "outputs go on without link", "failsafe/link-loss", swap("outputs_stopped: true", "outputs_stopped: false", "")
    ),
    Fault("outputs stop late", "failsafe/link-loss", swap("seconds_to_stop: 0.8", "seconds_to_stop: 5.0", "")),
    Fault("motors restart by themselves", "failsafe/link-loss",
          swap("restarted_on_regain: false", "restarted_on_regain: true", "")),
    Fault(
        "control lost in the range test", "failsafe/range-test", swap("control_held: true", "control_held: false", "")
    ),
    Fault("nose down shown as nose up", "control/tilt-answer",
          swap("did: nose-down, indicated: nose-down", "did: nose-down, indicated: nose-up", "")),
    Fault("arms at raised throttle", "control/arms-at-raised-throttle",
          swap("arms_at_raised_throttle: false", "arms_at_raised_throttle: true", "")),
    Fault("one motor starts late", "control/start-throttle-spread",
          swap(r"(start_throttle_percent: \{[\w-]+: )5.0", r"\g<1>9.0", "")),
    Fault("rig looked at before the inverted run", "rotation/rig-check?",
          swap(r"date: 2026-05-17 08:50, rig: flight", "date: 2026-05-16 08:50, rig: flight", "", mark="")),
    Fault("rig recorded as inverted", "rotation/rig-check", swap(r"rig: flight", "rig: inverted-load", "")),
    *measured.FAULTS,
    *flight.FAULTS,
]
