"""What ends a record: full texts, both sides, and dates against an oracle in plain Python."""

import pytest
from making.manifests import answer, answers, expect, manifest

from preflint.api import Clear, Finding, NotApplicable, Unproven
from preflint.testing import inspect_text, marked, open_questions

FITTED = "compass: {interference_offset_ut_per_a: [0, 0, 0]}\nbarometer: {accuracy_hpa: 1}\n"
BARE = manifest(FITTED, name="Lapwing", more="relies_on: [compass, barometer, satellite]")

# One record of each kind, as short as the schema allows.
RECORDS = {
    "spin_test": "{date: DATE, seen: {rear-left: ccw, front-left: cw}}",
    "output_test": "{date: DATE, turned: {rear-left: rear-left, front-left: front-left}}",
    "nut_test": "{date: DATE, at: rear-left, motor_turned: ccw, nut: runs-on}",
    "rig_check": "{date: DATE, rig: flight}",
    "walk_round": "{date: DATE, looked_at: [arms], damaged: []}",
    "cut_off_test": "{date: DATE, motors_stopped: true}",
    "bell_pull": "{date: DATE, at: rear-left, moved: false}",
    "voltage_comparison": "{date: DATE, columns: [indicated_v, reference_v], rows: [[24.02, 24.11]]}",
    "current_comparison": "{date: DATE, columns: [indicated_a, reference_a], rows: [[20.9, 21.4]]}",
    "interference_run": "{date: DATE, columns: [current_a, field_x_ut, field_y_ut, field_z_ut], "
    "rows: [[0, 18, 2, 44], [20, 20, 3, 44]]}",
    "heading_check": "{date: DATE, columns: [true_deg, indicated_deg], rows: [[0, 1], [90, 91]]}",
    "compass_rotation": "{date: DATE, columns: [field_x_ut, field_y_ut, field_z_ut], rows: [[18, 2, 44]]}",
    "six_positions": "{date: DATE, columns: [accel_x_m_s2, accel_y_m_s2, accel_z_m_s2], rows: [[0, 0, 9]]}",
    "barometer_check": "{date: DATE, indicated_hpa: 987.0, station_pressure_hpa: 986.4}",
    "position_check": "{date: DATE, shown_latitude_deg: 54.4, shown_longitude_deg: -2.9}",
    "tilt_test": "{date: DATE, moves: [{did: nose-down, indicated: nose-down}]}",
    "stick_check": "{date: DATE, arms_at_raised_throttle: false}",
    "link_loss_test": "{date: DATE, outputs_stopped: true}",
    "range_test": "{date: DATE, control_held: true}",
    "thrust_stand": "{date: DATE, at: rear-left, columns: [thrust_g, current_a, voltage_v], rows: [[9, 9, 9]]}",
    "prop_look": "{date: DATE, at: rear-left, found: nothing}",
    "rotor_speeds": "{date: DATE, rpm: {rear-left: 5000, front-left: 5000}}",
    "prop_balance": "{date: DATE, at: rear-left, residual_g_mm: 2}",
    "cell_voltages": "{date: DATE, pack: A1, cells_v: [4.1, 4.1]}",
    "recharge": "{date: DATE, counted_mah: 4000, put_back_mah: 4100}",
    "hover": "{date: DATE, mean_current_a: 20}",
    "sag_run": "{date: DATE, columns: [current_a, voltage_v, used_mah], rows: [[5, 24, 100]]}",
}

TABLE = "columns: [indicated_a, reference_a], rows: [[20.9, 21.4]]"

# Work that must end a record, written down apart from the rows in the pack.
ENDS = [
    (kind, part, work)
    for kinds, parts, works in [
        (["spin_test", "output_test"], ["motor"], ["fitted", "replaced", "rewired"]),
        (["spin_test", "output_test"], ["esc"], ["fitted", "replaced", "rewired", "reset"]),
        (["spin_test", "output_test"], ["flight-controller"], ["settings-changed", "firmware"]),
        (["nut_test"], ["motor", "nut", "adapter"], ["fitted", "replaced"]),
        (["interference_run"], ["flight-controller"], ["fitted", "replaced", "moved"]),
        (
            ["voltage_comparison", "current_comparison", "recharge", "hover", "sag_run"],  # all read off its display
            ["power-sensor", "flight-controller"],
            ["replaced", "rewired", "settings-changed", "reset"],
        ),
        (["interference_run"],
         ["compass", "power-lead", "battery-tray", "esc", "motor", "power-sensor"],
         ["moved", "replaced", "rewired"]),
        (["heading_check", "compass_rotation"], ["compass", "flight-controller", "payload"], ["moved", "replaced"]),
        (["tilt_test"], ["flight-controller"], ["moved", "replaced", "settings-changed", "firmware"]),
        (["prop_look"], ["prop"], ["fitted", "replaced"]),
        (["prop_balance"], ["prop", "nut", "adapter", "motor"], ["replaced"]),
        (["link_loss_test", "range_test"], ["receiver", "antenna", "flight-controller"], ["replaced", "rewired"]),
    ]
    for kind in kinds
    for part in parts
    for work in works
    if (part, work) != ("battery-tray", "rewired")
]

# Work that must leave a record alone.
LEAVES = [
    ("spin_test", "prop", "replaced"),
    ("spin_test", "battery-tray", "moved"),
    ("nut_test", "battery-tray", "moved"),
    ("rig_check", "battery-tray", "moved"),
    ("voltage_comparison", "motor", "replaced"),
    ("voltage_comparison", "compass", "moved"),
    ("interference_run", "prop", "replaced"),
    ("interference_run", "payload", "replaced"),
    ("heading_check", "prop", "replaced"),
    ("link_loss_test", "motor", "replaced"),
    ("thrust_stand", "prop", "replaced"),
    ("barometer_check", "motor", "replaced"),
]


def worked(kind, event, date="2026-04-18"):
    record = RECORDS[kind].replace("DATE", date)
    return BARE + f"records:\n  {kind}:\n    - {record}\nlogbook:\n  - {event}\n"


def judged(text, rule="freshness/stale-record"):
    (found,) = answers(text, rule)
    return found


@pytest.mark.parametrize(("kind", "part", "work"), ENDS)
def test_work_that_ends_a_record(kind, part, work):
    outcome = expect(Finding, judged(worked(kind, f"{{date: 2026-05-09, kind: {work}, part: {part}}}")))
    assert part.replace("-", " ") in outcome.message
    assert "on 2026-05-09" in outcome.message


@pytest.mark.parametrize(("kind", "part", "work"), LEAVES)
def test_work_that_leaves_a_record_alone(kind, part, work):
    assert judged(worked(kind, f"{{date: 2026-05-09, kind: {work}, part: {part}}}")) == Clear(
        "nothing since 2026-04-18 ends it"
    )


@pytest.mark.parametrize("kind", sorted(RECORDS))
def test_a_crash_ends_every_record_and_a_flight_none(kind):
    assert isinstance(judged(worked(kind, "{date: 2026-05-09, kind: crashed}")), Finding)
    assert isinstance(judged(worked(kind, "{date: 2026-05-09, kind: flown}")), Clear)


@pytest.mark.parametrize(("kind", "ends"), [
    ("interference_run", True),
    ("heading_check", True),
    ("rig_check", True),
    ("bell_pull", True),
    ("range_test", True),
    ("spin_test", False),
    ("nut_test", True),
])
def test_a_hard_landing_ends_what_it_shakes(kind, ends):
    assert isinstance(judged(worked(kind, "{date: 2026-05-09, kind: hard-landing}")), Finding) == ends


def test_what_a_crash_names_does_not_spare_the_rest():
    outcome = expect(
        Finding, judged(worked("spin_test", "{date: 2026-05-09, kind: crashed, part: prop, at: front-right}"))
    )
    assert outcome.message == (
        "the spin test of 2026-04-18 is outdated for every rotor: crashed on 2026-05-09"
    )


def test_stale_at_one_rotor_in_full():
    text = worked("spin_test", "{date: 2026-05-09, kind: replaced, part: motor, at: rear-left}")
    outcome = expect(Finding, judged(text))
    assert outcome.message == (
        "the spin test of 2026-04-18 is outdated for rear-left: motor replaced at rear-left on 2026-05-09"
    )
    assert outcome.evidence == ""  # one event is told in the message
    assert outcome.do == (
        "repeat the spin test of rear-left: let each motor turn briefly and note its spin as seen from above"
    )
    assert outcome.mind == (
        "Props removed before the pack goes in; keep hands, cables and sleeves away from the motors."
    )
    assert marked(text, outcome.place) == "2026-04-18"
    assert [(marked(text, r.place), r.message) for r in outcome.related] == [
        ("{date: 2026-05-09, kind: replaced, part: motor, at: rear-left}", "motor replaced at rear-left on 2026-05-09")
    ]


def test_work_at_another_rotor_leaves_it_alone():
    assert isinstance(
        judged(worked("nut_test", "{date: 2026-05-09, kind: replaced, part: nut, at: front-left}")), Clear
    )
    assert isinstance(judged(worked("nut_test", "{date: 2026-05-09, kind: replaced, part: nut}")), Finding)


def test_battery_tray_moved_after_the_interference_run_in_full():
    text = worked("interference_run", "{date: 2026-05-09, kind: moved, part: battery-tray}")
    outcome = expect(Finding, judged(text))
    assert outcome.message == (
        "the interference run of 2026-04-18 is outdated: battery tray moved on 2026-05-09"
    )
    assert outcome.do == (
        "repeat the interference run: log time, current and field: motors still, five steps or more of ten seconds "
        "and two rows each up to hover or more, motors still again; payload on, away from steel"
    )
    assert outcome.mind is not None
    assert outcome.mind.startswith("Loaded run: tie the aircraft down")


def test_the_precaution_follows_the_route():
    for route, says in [
        ("restrained", "it pulls upward"),
        ("hover-log", "Hover log:"),
        ("inverted-load", "Inverted rig:"),
    ]:
        text = worked("interference_run", "{date: 2026-05-09, kind: moved, part: compass}")
        outcome = expect(Finding, judged(text.replace("{date: 2026-04-18,", f"{{date: 2026-04-18, route: {route},")))
        assert says in str(outcome.mind)


@pytest.mark.parametrize(("record", "event"), [
    ("2026-04-18", "2026-04-18"),
    ("2026-04-18 10:00", "2026-04-18"),
    ("2026-04-18", "2026-04-18 10:00"),
    ("2026-04-18 10:00", "2026-04-18 10:00"),
])
def test_order_open_on_one_day(record, event):
    text = worked("voltage_comparison", f"{{date: {event}, kind: replaced, part: power-sensor}}", record)
    outcome = expect(Unproven, judged(text))
    assert outcome.cause == "order-open"
    assert outcome.message == (
        f"which came first, the voltage comparison or this? power sensor replaced on {event}"
    )
    assert outcome.do == (
        "write the time of day in both; if the voltage comparison came first: repeat the voltage comparison: read "
        "the display and a meter at the same moment, at two pack voltages"
    )
    assert marked(text, outcome.place) == record


def test_work_dated_after_the_day_judged_at_counts():
    outcome = expect(Finding, judged(worked("link_loss_test", "{date: 2026-06-09, kind: replaced, part: receiver}")))
    assert outcome.message == (
        "the link-loss test of 2026-04-18 is outdated: receiver replaced on 2026-06-09 (after 2026-05-21, the day "
        "judged at)"
    )


def test_a_later_record_takes_over_rotor_by_rotor():
    text = BARE + (
        "records:\n  spin_test:\n"
        "    - {date: 2026-04-18, seen: {rear-left: ccw, front-left: cw}}\n"
        "    - {date: 2026-05-10, seen: {rear-left: ccw}}\n"
        "logbook:\n  - {date: 2026-05-09, kind: replaced, part: esc}\n"
    )
    first, second = [r.outcome for r in inspect_text(text).results if r.rule.id == "freshness/stale-record"]
    assert isinstance(first, Finding)
    assert "is outdated for front-left: esc replaced" in first.message
    assert isinstance(second, Clear)
    all_of_it = text.replace("seen: {rear-left: ccw}}", "seen: {rear-left: ccw, front-left: cw}}")
    first, second = [r.outcome for r in inspect_text(all_of_it).results if r.rule.id == "freshness/stale-record"]
    assert first == NotApplicable("a later record of the kind counts")
    assert isinstance(second, Clear)


def test_each_pack_has_its_own_cell_voltages():
    text = BARE + (
        "records:\n  cell_voltages:\n"
        "    - {date: 2026-04-18, pack: A1, cells_v: [4.1, 4.1]}\n"
        "    - {date: 2026-05-10, pack: A2, cells_v: [4.1, 4.1]}\n"
        "logbook:\n  - {date: 2026-05-09, kind: stored}\n"
    )
    first, second = [r.outcome for r in inspect_text(text).results if r.rule.id == "freshness/stale-record"]
    assert isinstance(first, Finding)
    assert first.message == (
        "the cell voltages of 2026-04-18 are outdated for A1: aircraft stored on 2026-05-09"
    )
    assert isinstance(second, Clear)


@pytest.mark.parametrize(("later", "stale"), [
    ("rig_check: [{date: 2026-04-18 13:00, rig: inverted-load}]", True),
    ("rig_check: [{date: 2026-04-18 11:00, rig: inverted-load}]", False),
    ("rig_check: [{date: 2026-04-18 13:00, rig: flight}]", False),
    (f"current_comparison: [{{date: 2026-04-18 13:00, route: inverted-load, {TABLE}}}]", True),
    (f"current_comparison: [{{date: 2026-04-18 13:00, route: restrained, {TABLE}}}]", False),
])
def test_nuts_are_tested_again_after_the_inverted_rig(later, stale):
    text = BARE + f"records:\n  nut_test: [{RECORDS['nut_test'].replace('DATE', '2026-04-18 12:00')}]\n  {later}\n"
    outcome = next(r.outcome for r in inspect_text(text).results if r.rule.id == "freshness/stale-record")
    assert isinstance(outcome, Finding) == stale
    if isinstance(outcome, Finding):
        assert outcome.message == (
            "the nut test of 2026-04-18 12:00 is outdated for rear-left: props in the inverted rig on 2026-04-18 "
            "13:00"
        )
        assert outcome.do == (
            "repeat the nut test of rear-left: hold the nut, turn the motor by hand, and note which way it "
            "turned, looking at the nut, and whether the nut runs on or off"
        )


@pytest.mark.parametrize("kind", [
    "interference_run", "heading_check", "compass_rotation", "barometer_check", "position_check",
])
def test_what_flight_does_not_rely_on_is_out_of_the_question(kind):
    text = worked(kind, "{date: 2026-05-09, kind: crashed}").replace(
        "relies_on: [compass, barometer, satellite]", "relies_on: []"
    )
    outcome = expect(NotApplicable, judged(text))
    assert outcome.because.startswith("the aircraft does not rely on ")


def test_a_rule_that_wants_a_stale_record_names_the_cause():
    text = worked("link_loss_test", "{date: 2026-05-09, kind: replaced, part: receiver}")
    (wanting,) = [u for rule, _, u in open_questions(inspect_text(text)) if rule == "failsafe/link-loss"]
    assert wanting.cause == "stale"
    assert wanting.message == ("the link-loss test of 2026-04-18 is outdated: receiver replaced on 2026-05-09")
    assert wanting.place == judged(text).place


@pytest.mark.parametrize(("held", "told"), [("false", NotApplicable), ("true", Finding)])
def test_a_failed_test_is_told_once(held, told):
    """A crash ends what a good range test proves; one that failed stays failed, and its own rule says so."""
    text = manifest(
        records={"range_test": f"date: 2026-05-18, distance_m: 40, control_held: {held}"},
        logbook="date: 2026-05-19, kind: crashed",
    )
    (stale,) = answers(text, "freshness/stale-record")
    assert isinstance(stale, told)
    (old,) = answers(text, "freshness/age", "2028-05-21")
    if held == "false":
        assert stale == old == NotApplicable("it failed, and that stands until a later one passes")
        assert isinstance(answer(text, "failsafe/range-test"), Finding)


def test_a_stale_test_is_written_down_anew_and_an_open_order_only_settled():
    """Which record a rule waits for: the one to be taken again; none where times of day are to be written."""
    for day, cause, record in (("2026-04-19", "stale", "link_loss_test"), ("2026-04-18", "order-open", None)):
        text = worked("link_loss_test", f"{{date: {day}, kind: replaced, part: receiver}}")
        told = expect(Unproven, answer(text, "failsafe/link-loss"))
        assert (told.cause, told.record) == (cause, record)
