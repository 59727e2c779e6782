"""Faults that a flight shows, of weather, warnings, plans and the way home, and of papers."""

from making.study.fault import Case, Fault, Put, need, record, record_times, setting, times


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
        need("output_percent" in case.latest("after_flight_look"))
        told = case.latest("after_flight_look")["output_percent"]
        spins = {rotor.at: rotor.spin == "cw" for rotor in case.sound.craft.rotors}
        ahead = {rotor.at: rotor.place_mm[0] > 0.3 * case.sound.craft.arm_mm for rotor in case.sound.craft.rotors}
        for at in told:
            if (spins if split else ahead)[at]:
                told[at] = min(99, round(told[at] * 1.35))
            elif not split and not ahead[at]:
                told[at] = round(told[at] * 0.75)

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


def deferred(rule: str, until: str) -> Put:
    def put(case: Case) -> None:
        need(case.document["every_rotor"]["esc"]["spin_set_by"] == "setting")
        case.document.setdefault("deferred_defects", []).append(
            {"rule": rule, "until": until, "by": "N. Rowe", "because": "later"}
        )

    return put


FAULTS = [
    Fault("planned beyond the link", ("failsafe/link-reach",), beyond_the_link),
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
    Fault("warned when a cell is empty", ("warnings/full-throttle-cell",), warned_at(2.3)),
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
