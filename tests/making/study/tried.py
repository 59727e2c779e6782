"""Faults of what is tried by hand or seen, of packs, and of what was done since."""

from making.study.fault import OTHER, Case, Fault, Put, log, need, record


def move(kind: str, did: str, key: str) -> Put:
    """One move of a test shows the other way, or by the rotors that should not answer it."""

    def put(case: Case) -> None:
        told = next((one for one in case.latest(kind)["moves"] if one["did"] == did), None)
        need(told)
        assert told
        if key == "indicated":
            told["indicated"] = OTHER[did]
        else:
            told["slowed_down"] = told.pop("sped_up")

    return put


def one_falls_back(case: Case) -> None:
    raised = case.latest("stick_check")["moves"][-1]
    at = case.one()["at"]
    raised |= {"sped_up": [one for one in raised["sped_up"] if one != at], "slowed_down": [at]}


def starts(factor: float, everyone: bool) -> Put:
    def put(case: Case) -> None:
        told = case.latest("stick_check")["start_throttle_percent"]
        for at in list(told) if everyone else [case.one()["at"]]:
            told[at] = round(told[at] * factor, 1)

    return put


def other_settings_saved(case: Case) -> None:
    case.latest("saved_settings")["sha256"] = "b0" * 8


def damaged(case: Case) -> None:
    case.latest("walk_round")["damaged"] = ["arms"]


def cells(change: float, kind: str) -> Put:
    """One cell reads so many volts more."""

    def put(case: Case) -> str:
        need(case.sound.craft.cells > 1)
        read = case.latest(kind)["cells_v"]
        which = int(case.rng.integers(len(read)))
        read[which] = round(max(0.0, read[which] + change), 3)
        return "S1"

    return put


def rig_looked_at_before(case: Case) -> None:
    need(any(one.get("route") == "inverted-load" for one in case.document["records"]["current_comparison"]))
    case.latest("rig_check")["date"] = "2026-05-16 08:00"


def _with_compass(put: Put) -> Put:
    """Where nothing but interference hangs on it."""

    def where(case: Case) -> str | None:
        need(case.sound.sensor is not None)
        return put(case)

    return where


FAULTS = [
    Fault("tipped, shown the other way", ("control/tilt-answer",), move("tilt_test", "nose-down", "indicated")),
    Fault("tipped, the wrong rotors answer", ("control/tilt-answer",), move("tilt_test", "right-down", "sped_up")),
    Fault("turned, the wrong rotors answer", ("control/tilt-answer",), move("tilt_test", "turned-right", "sped_up")),
    Fault("a stick shown reversed", ("control/stick-answer",), move("stick_check", "right-down", "indicated")),
    Fault("a stick moves the wrong rotors", ("control/stick-answer",), move("stick_check", "nose-down", "sped_up")),
    Fault("the throttle reversed", ("control/throttle-answer",), move("stick_check", "throttle-up", "sped_up")),
    Fault("one rotor falls back at more throttle", ("control/throttle-answer",), one_falls_back),
    Fault("arms at raised throttle", ("control/arms-at-raised-throttle",),
          record("stick_check", "arms_at_raised_throttle", True)),
    Fault("motors start late", ("control/start-throttle",), starts(7, True)),
    Fault("one motor starts later", ("control/start-throttle-spread", "control/start-throttle"), starts(2.5, False)),
    Fault("props on in the spin test", ("rotation/props-removed",), record("spin_test", "props", "fitted")),
    Fault("props on in the tilt test", ("control/props-removed",), record("tilt_test", "props", "fitted")),
    Fault("outputs go on without link", ("failsafe/link-loss",), record("link_loss_test", "outputs_stopped", False)),
    Fault("outputs stop late", ("failsafe/link-loss",), record("link_loss_test", "seconds_to_stop", 9)),
    Fault("motors start again by themselves", ("failsafe/link-loss",),
          record("link_loss_test", "restarted_on_regain", True)),
    Fault("the cut-off stops nothing", ("failsafe/cut-off",), record("cut_off_test", "motors_stopped", False)),
    Fault("control lost in the range test", ("failsafe/range-test",), record("range_test", "control_held", False)),
    Fault("damage found walking round", ("freshness/walk-round",), damaged),
    Fault("a cracked prop", ("props/damage",), record("prop_look", "found", "crack")),
    Fault("a nicked prop", ("props/nicked",), record("prop_look", "found", "nick")),
    Fault("a bell that comes off", ("retention/bell-pull",), lambda case: _bell(case)),
    Fault("the rig still inverted", ("rotation/rig-check",), record("rig_check", "rig", "inverted-load")),
    Fault("looked at before the inverted run", ("rotation/rig-check",), rig_looked_at_before),
    Fault("a motor replaced since", ("freshness/stale-record", "rotation/spin-seen"),
          log(kind="replaced", part="motor", at="some")),
    Fault("the flight controller reset since", ("freshness/stale-record", "control/tilt-answer"),
          log(kind="reset", part="flight-controller")),
    Fault("the battery tray moved since", ("freshness/stale-record",),
          _with_compass(log(kind="moved", part="battery-tray"))),
    Fault("the power lead rewired since", ("freshness/stale-record",),
          _with_compass(log(kind="rewired", part="power-lead"))),
    Fault("crashed since", ("props/looked", "freshness/walk-round"), log(kind="crashed")),
    Fault("tipped over since", ("props/looked", "freshness/walk-round"), log(kind="tipped-over")),
    Fault("work of a day to come", ("freshness/future-entry",),
          log(date="2026-06-01", kind="replaced", part="receiver")),
    Fault("other settings saved, none logged", ("freshness/unlogged-change",), other_settings_saved),
    Fault("other settings changed lately", ("freshness/other-settings",),
          log(date="2026-05-15", kind="settings-changed", part="flight-controller", touches=["other"])),
    Fault("a pack not latched", ("packs/held",), record("pack_check", "latched", False)),
    Fault("a pack that slides", ("packs/held",), record("pack_check", "tug_moved", True)),
    Fault("a plug that creeps apart", ("packs/plug",), record("pack_check", "plug_tug_moved", True)),
    Fault("a lead in reach of a prop", ("packs/plug",), record("pack_check", "leads_clear", False)),
    Fault("a swollen pack", ("packs/swollen",), record("pack_check", "rocks_on_flat", True)),
    Fault("a frozen pack", ("packs/cold",), record("pack_check", "temperature_c", -5)),
    Fault("a cell of the day nearly dead", ("packs/cells",), cells(-0.9, "pack_check")),
    Fault("a cell of the day lags", ("packs/spread",), cells(-0.12, "pack_check")),
    Fault("plus and minus exchanged", ("packs/polarity",), record("polarity_check", "polarity_right", False)),
    Fault("a dead cell", ("power_sensing/dead-cell",), cells(-3.5, "cell_voltages")),
    Fault("a cell overcharged", ("power_sensing/cell-overcharged",), cells(0.3, "cell_voltages")),
    Fault("a cell that lags", ("power_sensing/cells-apart", "power_sensing/cell-sum"), cells(-0.2, "cell_voltages")),
]  # fmt: skip


def _bell(case: Case) -> str:
    pulled = case.latest("bell_pull")
    pulled["moved"] = True
    return str(pulled["at"])
