"""Faults of what is tried by hand or seen, of packs, papers, weather, plans, and of what was done since."""

from making.study.fault import OTHER, Case, Fault, Put, log, need, record, record_times, setting, times


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


def looked(key: str, value: object) -> Put:
    """SOME stands for the position of some rotor."""

    def put(case: Case) -> str:
        look, at = case.latest("after_flight_look"), str(case.one()["at"])
        look[key] = [at] if value == ["SOME"] else value
        return at

    return put


def hot_motor(case: Case) -> str:
    look, at = case.latest("after_flight_look"), str(case.one()["at"])
    if "motors_c" in look:
        look["motors_c"][at] += 45
    else:
        look["motors"] = {at: "hot", "others": "warm"}
    return at


def outputs(split: bool) -> Put:
    """Those that turn cw work a quarter harder; or those of the front a half."""

    def put(case: Case) -> None:
        told = case.latest("after_flight_look").get("output_percent")
        need(told)
        spins = {rotor.at: rotor.spin == "cw" for rotor in case.sound.craft.rotors}
        ahead = {rotor.at: rotor.place_mm[0] > 0.3 * case.sound.craft.arm_mm for rotor in case.sound.craft.rotors}
        for at in told:
            if (spins if split else ahead)[at]:
                told[at] = min(99, round(told[at] * 1.35))
            elif not split and not ahead[at]:
                told[at] = round(told[at] * 0.75)

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


def day(key: str, value: object) -> Put:
    def put(case: Case) -> None:
        need("days" in case.document["site"])
        case.document["site"]["days"][0][key] = value

    return put


def limit(key: str, than: str, by: float) -> Put:
    """The aircraft bears less than the day has."""

    def put(case: Case) -> None:
        need("days" in case.document["site"])
        least = case.document["site"]["days"][0][than] + by
        need(least > 0 or key.endswith("_c"))
        case.section("limits_of_aircraft")[key] = round(least, 1)

    return put


def icy(case: Case) -> None:
    need("days" in case.document["site"])
    case.document["site"]["days"][0] |= {"temperature_c": 0, "relative_humidity_percent": 97}
    case.section("limits_of_aircraft")["least_c"] = -20


def no_warning(case: Case) -> None:
    case.document["battery_warnings"] = "none"
    case.document["records"].pop("warning_test", None)


def lands_first(case: Case) -> None:
    first = case.document["battery_warnings"][0]
    case.document["battery_warnings"] = [
        {**first, "does": "lands"}, {**first, "at_cell_v": round(first["at_cell_v"] - 0.2, 2), "does": "tells"}
    ]  # fmt: skip


def warned_at(cell_v: float) -> Put:
    def put(case: Case) -> str:
        need("sag_run" in case.document["records"])
        first = case.document["battery_warnings"][0]
        case.document["battery_warnings"] = [{**first, "at_cell_v": cell_v}]
        return "S1"

    return put


def warned_late(case: Case) -> None:
    [*_, last] = case.document["battery_warnings"]
    by_charge = next((one for one in case.document["battery_warnings"] if one["watches"] == "charge-used"), None)
    need(by_charge and case.document["plan"].get("airspeed_m_s"))
    case.document["battery_warnings"] = [{**last, "watches": "charge-used", "does": "tells",
                                          "at_used_mah": round(case.sound.craft.capacity_mah * 1.1)}]
    case.document["battery_warnings"][0].pop("at_cell_v", None)
    case.document["records"].pop("warning_test", None)


def slower_than_wind(case: Case) -> None:
    plan = case.section("plan")
    need("airspeed_m_s" in plan)
    plan["wind_m_s"] = plan["airspeed_m_s"] + 2


def beyond_the_link(case: Case) -> None:
    test = case.latest("range_test")
    reach = test["distance_m"] * 10 ** (test["reduced_by_db"] / 20)
    case.section("plan")["farthest_m"] = min(20000, round(reach * 1.6))


def twice_on_one_charge(case: Case) -> str:
    flown = [one for one in case.document["logbook"] if one.get("put_back_mah")]
    need(flown)
    minutes = 60 * case.sound.craft.capacity_mah / 1000 / case.sound.craft.hover_a
    case.document["logbook"].append(
        {"date": "2026-05-18 10:00", "kind": "flown", "minutes": round(0.75 * minutes, 1), "pack": "S1"}
    )
    return "S1"


def comes_home_low(case: Case) -> None:
    home = case.section("return")
    need(home["on_link_loss"] == "comes-home")
    case.document["site"]["highest_obstacle_m"] = home["height_m"] + 15


def comes_home_without(case: Case) -> None:
    need("relies_on" in case.document["aircraft"])
    need(not {"satellite", "compass"} <= set(case.document["aircraft"]["relies_on"]))
    need(case.document["satellite_receiver"] == "none")
    case.document["return"] = {"on_link_loss": "comes-home", "height_m": 80}


def fence(key: str, of: str) -> Put:
    """Nearer than the plan reaches."""

    def put(case: Case) -> None:
        home = case.section("return")
        need(key in home and case.document["plan"][of] > 20)
        home[key] = round(case.document["plan"][of] * 0.5)

    return put


def rig_looked_at_before(case: Case) -> None:
    need(any(one.get("route") == "inverted-load" for one in case.document["records"]["current_comparison"]))
    case.latest("rig_check")["date"] = "2026-05-16 08:00"


def deferred(rule: str, until: str) -> Put:
    def put(case: Case) -> None:
        need(case.document["every_rotor"]["esc"]["spin_set_by"] == "setting")
        case.document.setdefault("deferred_defects", []).append(
            {"rule": rule, "until": until, "by": "N. Rowe", "because": "later"}
        )

    return put


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
    Fault("planned beyond the link", ("failsafe/link-reach",), beyond_the_link),
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
    Fault("the battery tray moved since", ("freshness/stale-record",), log(kind="moved", part="battery-tray")),
    Fault("the power lead rewired since", ("freshness/stale-record",), log(kind="rewired", part="power-lead")),
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
    Fault("a hot motor", ("after_flight/hot-motor",), hot_motor),
    Fault("a nut that moved", ("after_flight/nut-moved",), looked("nuts_moved", ["SOME"])),
    Fault("a hot pack", ("after_flight/hot-pack",), looked("pack_c", 75)),
    Fault("one spin works harder", ("after_flight/output-split",), outputs(True)),
    Fault("a heavy nose", ("after_flight/output-trim",), outputs(False)),
    Fault("insurance that ended", ("papers/dates",), setting("papers", "insurance_until", value="2026-05-20")),
    Fault("a paper that ends soon", ("papers/ends-soon",), setting("papers", "registration_until", value="2026-06-01")),
    Fault("no label", ("papers/label",), setting("papers", "label_on_aircraft", value=False)),
    Fault("a no-go deferred", ("papers/deferral-not-allowed",), deferred("rotation/prop-state", "2026-06-10")),
    Fault("a deferral of half a year", ("papers/deferral-too-long",),
          deferred("rotation/spin-by-setting", "2026-11-20")),
    Fault("more wind than it bears", ("day/wind", "day/wind-aloft"), limit("wind_m_s", "wind_m_s", -0.3)),
    Fault("stronger gusts than it bears", ("day/wind", "day/wind-aloft"), limit("gust_m_s", "gust_m_s", -0.3)),
    Fault("colder than it bears", ("day/temperature",), limit("least_c", "temperature_c", 3)),
    Fault("warmer than it bears", ("day/temperature",), limit("most_c", "temperature_c", -3)),
    Fault("air that ices props", ("day/icing",), icy),
    Fault("heavy rain", ("day/rain",), day("rain", "heavy")),
    Fault("nothing warns", ("warnings/none",), no_warning),
    Fault("it lands before it tells", ("warnings/order",), lands_first),
    Fault("warned when a cell is empty", ("warnings/full-throttle-cell",), warned_at(2.7)),
    Fault("warned when all is used", ("warnings/charge-left", "warnings/none"), warned_late),
    Fault("a warning not noticed", ("warnings/heard",), record("warning_test", "sounded", False)),
    Fault("slower than the wind", ("endurance/way-home",), slower_than_wind),
    Fault("a flight of five times the charge", ("endurance/reserve",), times(5, "plan", "flight_min")),
    Fault("flown twice on one charge", ("endurance/charged",), twice_on_one_charge),
    Fault("comes home below the trees", ("return/height",), comes_home_low),
    Fault("comes home with nothing to find it by", ("return/needs-position",), comes_home_without),
    Fault("a fence inside the plan", ("return/fence",), fence("fence_radius_m", "farthest_m")),
    Fault("a fence below the plan", ("return/fence",), fence("fence_height_m", "height_m")),
    Fault("a log of few metres at full range", ("failsafe/link-margin", "failsafe/link-reach"),
          record_times("range_test", "distance_m", 0.2)),
]  # fmt: skip


def _bell(case: Case) -> str:
    pulled = case.latest("bell_pull")
    pulled["moved"] = True
    return str(pulled["at"])
