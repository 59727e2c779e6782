"""An aircraft that turns in its ties: what it makes of a run, and how a second heading tells.

The logs come from a model that uses nothing of ours: the Earth's field turned into body axes, a hard iron taken out,
interference and a turn in step with the current, and noise of some hundredths of a microtesla.
"""

import math

import numpy as np
import pytest
from making.earth import DOWN_UT, NORTH_UT
from making.manifests import answer, expect, manifest
from preflint_rules.interference.turning import Logged, is_explained, told_apart
from scipy import stats

from preflint.api import PACK_UNPLUGGED, RESTRAINED, Clear, Finding, NotApplicable, Unproven
from preflint.compute.decision import expanded_radius_3d
from preflint.testing import inspect_text, marked, outcome

JUDGED_ON, FULL_A, HOVER_A = "2027-07-02", 84.0, 24.0
HARD = (4.0, -12.0, 8.0)
AMPERES = (0.0, 8.0, 16.0, 24.0, 0.0)
ERROR, SUCCESSIVE = "interference/heading-error", "interference/successive-runs"
OFFERING = [
    "interference/heading-error", "interference/heading-error-aim", "interference/offset-sign",
    "interference/double-compensation",
]  # fmt: skip
HOW = (
    "log a second run with the nose turned by about 90°; let nothing turn or shift; write it beside this one; "
    "log time, current and field: motors "
    "still, five steps or more of ten seconds and two rows each up to hover or more, motors still again; payload "
    "on, away from steel; load as before: tied down in the flight rig (restrained)"
)


def body(heading_deg, soft=None):
    """The Earth's field as the compass shows it before any correction, (3,)."""
    heading = math.radians(heading_deg)
    earth = np.array([NORTH_UT * math.cos(heading), -NORTH_UT * math.sin(heading), DOWN_UT])
    return np.linalg.solve(np.eye(3) if soft is None else np.array(soft), earth) - HARD


def run(date, heading_deg, made=(0, 0, 0), turn_deg=0.0, added=None, noise=0.02, hard="", soft=None):
    """``turn_deg``: the nose turned to the right at 24 A; ``added``: the offset of a compensated log."""
    rng = np.random.default_rng(len(date) + int(heading_deg))
    rows = []
    for a in AMPERES:
        field = body(heading_deg + turn_deg * a / 24, soft) + np.multiply(made, a) + np.multiply(added or (0, 0, 0), a)
        rows.append([2 * a, a, *(round(float(one), 3) for one in field + rng.normal(0, noise, 3))])
    force = f", interference_offset_ut_per_a: {list(added)}{hard}" if added else ""
    return (
        f"date: {date}\nroute: restrained\nfield_is: {'compensated' if added else 'raw'}\n"
        f"in_force: {{sensor_mv_per_a: 26.4{force}}}\n"
        f"columns: [throttle_percent, current_a, field_x_ut, field_y_ut, field_z_ut]\nrows: {rows}\n"
    )


def recorded(*runs, offset=(0, 0, 0), hard=f", hard_iron_ut: {list(HARD)}", soft="", hover=True, logbook=()):
    return manifest(
        "site: {latitude_deg: 0, longitude_deg: 120, elevation_m: 0}\n"
        f"every_rotor: {{motor: {{full_throttle_draw_a: {FULL_A / 4}}}}}\npower_sensing: {{sensor_mv_per_a: 26.4}}\n"
        f"compass: {{interference_offset_ut_per_a: [{', '.join(f'{v:.4f}' for v in offset)}]{hard}{soft}}}\n",
        records={
            "interference_run": runs, "hover": f"date: 2027-06-17, mean_current_a: {HOVER_A}" if hover else ()
        }, logbook=logbook,
    )  # fmt: skip


def asked(text, rule=ERROR):
    return answer(text, rule, judged_on=JUDGED_ON)


# A turn of 5° at 24 A changes the field by H·sin 5°, across it: to the left of a nose that points north.
TAKEN = (0.0, NORTH_UT * math.sin(math.radians(5)) / 24, 0.0)


@pytest.mark.parametrize("rule", OFFERING)
@pytest.mark.parametrize("offset", [(0, 0, 0), TAKEN])
def test_a_turn_in_the_ties_offers_no_offset_and_clears_none(rule, offset):
    text = recorded(run("2027-06-16", 0, turn_deg=5), offset=offset)
    told = expect(Unproven, asked(text, rule))
    assert told.message == (
        "the run of 2027-06-16 shows interference, or a turn of 5.0° by 24 A"
    )
    assert (told.cause, told.do, told.mind) == ("uncertain", HOW, RESTRAINED)
    assert marked(text, told.place) == "date: 2027-06-16"


def test_a_turn_is_held_up_where_nobody_knows_what_flight_draws():
    text = recorded(run("2027-06-16", 0, turn_deg=5), offset=np.negative(TAKEN), hover=False)
    unknown = text.replace(f"full_throttle_draw_a: {FULL_A / 4}", "make: Ostrey")
    told = expect(Unproven, asked(unknown, "interference/offset-sign"))
    assert told.message == "the run of 2027-06-16 shows interference, or a turn of 5.0° by 24 A"


@pytest.mark.parametrize("heading", [0, 50, 140, 200, 290])
@pytest.mark.parametrize("turn", [-6, 3])
def test_a_turn_is_held_up_on_every_heading_and_through_soft_iron(heading, turn):
    assert isinstance(asked(recorded(run("2027-06-16", heading, turn_deg=turn))), Unproven)
    soft = [[1.1, 0.05, 0], [0.05, 0.95, 0], [0, 0, 1]]
    text = recorded(run("2027-06-16", heading, turn_deg=turn, soft=soft), soft=f", soft_iron: {soft}")
    assert "horizontal field" in expect(Unproven, asked(text)).evidence


def test_a_compensated_log_hides_no_turn():
    """The offset taken from a turn, confirmed on the same heading: the log stays flat."""
    confirmed = run("2027-06-16", 0, turn_deg=5, added=TAKEN, hard=", hard_iron_ut: [0, 0, 0]")
    told = expect(Unproven, asked(recorded(confirmed, offset=TAKEN)))
    assert "a turn of 5.0°" in told.message


def test_the_second_heading_tells_that_it_turned():
    runs = run("2027-06-15", 0, turn_deg=5), run("2027-06-16", 90, turn_deg=4)
    told = expect(Clear, asked(recorded(*runs)))
    assert "told apart from a turn by the run of 2027-06-15 on another heading: turned by " in told.evidence
    turns = [float(part.split(" ± ")[0]) for part in told.evidence.split("heading: turned by ")[1].split(" and ")[:2]]
    assert turns == pytest.approx([4, 5], abs=0.5)
    assert isinstance(asked(recorded(*runs), SUCCESSIVE), Clear)
    wrong = expect(Finding, asked(recorded(*runs, offset=TAKEN)))
    offered = [float(one) for one in wrong.do.split("to [")[1].split("]")[0].split(",")]
    assert offered == pytest.approx([0, 0, 0], abs=0.02)


def test_the_second_heading_tells_that_it_was_interference():
    made = (0.0, -0.12, 0.0)
    runs = run("2027-06-15", 0, made), run("2027-06-16", 90, made)
    assert isinstance(asked(recorded(runs[0], offset=(0, 0.12, 0))), Unproven)
    for pair in (runs, runs[::-1]):
        assert isinstance(asked(recorded(*pair, offset=(0, 0.12, 0))), Clear)
        assert isinstance(asked(recorded(*pair)), Finding)


def test_both_at_once_are_told_apart():
    made = (0.05, -0.04, 0.1)
    runs = [Logged(np.add(made, 0.002 * np.array(line)), 1e-8 * np.eye(3), 9, np.array(line), 24)
            for line in ([0, -40.0, 0], [40.0, 0, 0])]  # fmt: skip
    apart = told_apart(runs)
    assert apart.made == pytest.approx(made, abs=1e-6)
    assert [turn for turn, _ in apart.turns_deg] == pytest.approx([math.degrees(0.002 * 24)] * 2)
    assert apart.agree
    assert not apart.by_a_turn


# Ahead 0.01 ± 0.0037 by a run of 9 degrees of freedom, its line within 5°: 2.63 of both. The run is nearly all of that:
# (0.1446/0.1370)²·9 = 10 are left, and √(2·F(2, 10)) = 2.86. Ahead 0.0254 ± 0.0044, and ± 5° of 0.103: 2.54 of both.
# The line, known exactly, is most of that: (1 + 4.27)²·9 = 249 are left, 2.46. Worked by hand.
@pytest.mark.parametrize(("ahead", "left", "u", "explained"), [
    (0.0100, 0.0, 0.0037, True), (0.0115, 0.0, 0.0037, False),
    (0.0254, 0.1, 0.00436, False), (0.0240, 0.1, 0.00436, True),
])  # fmt: skip
def test_how_well_what_lies_off_the_line_is_known(ahead, left, u, explained):
    one = Logged(np.array([ahead, -left, 0.0]), u**2 * np.eye(3), 9, np.array([0.0, -40.0, 0.0]), 24.0)
    round_ = math.radians(5) * math.hypot(ahead, left)
    dof = 9 * (1 + (round_ / u) ** 2) ** 2
    reach = math.sqrt(2 * stats.f.ppf(0.95, 2, dof))
    assert (ahead / math.hypot(u, round_) < reach) is explained  # the figures above
    assert is_explained(one) is explained


def test_how_well_two_runs_tell_interference_and_turns():
    """Across each line only the other run tells: ahead u² = 1e-6 of 4 degrees of freedom, to the right 4e-6 of 9.

    (1 + 4)²/(1²/4 + 4²/9) = 12.33 (GUM G.4.1); each turn differs from none by √(1 + 4)e-3 µT/A of 40 µT, at 24 A.
    """
    made = np.array([0.05, -0.04, 0.1])
    apart = told_apart([
        Logged(made, 1e-6 * np.eye(3), 4, np.array([0.0, -40.0, 0.0]), 24.0),
        Logged(made, 4e-6 * np.eye(3), 9, np.array([40.0, 0.0, 0.0]), 24.0),
    ])  # fmt: skip
    assert apart.dof == pytest.approx(25 / (1 / 4 + 16 / 9), rel=1e-6)
    assert [u for _, u in apart.turns_deg] == pytest.approx([math.degrees(math.sqrt(5e-6) / 40 * 24)] * 2, rel=1e-6)
    assert np.diag(apart.covariance) == pytest.approx([1e-6, 4e-6, 0.8e-6], rel=1e-6)


@pytest.mark.parametrize(("down", "agree"), [(2.1, True), (2.25, False), (-2.1, True), (-2.25, False)])
def test_how_far_apart_two_runs_may_be_that_one_interference_explains(down, agree):
    """No turn changes what is down: there they differ by so many √(1 + 4)e-3. 97.5 % of t with 12.33 are 2.172."""
    assert stats.t.ppf(0.975, 25 / (1 / 4 + 16 / 9)) == pytest.approx(2.172, abs=0.001)
    apart = told_apart([
        Logged(np.array([0.05, -0.04, 0.1]), 1e-6 * np.eye(3), 4, np.array([0.0, -40.0, 0.0]), 24.0),
        Logged(np.array([0.05, -0.04, 0.1 + down * 5**0.5 * 1e-3]), 4e-6 * np.eye(3), 9, np.array([40.0, 0, 0]), 24.0),
    ])  # fmt: skip
    assert apart.agree is agree


@pytest.mark.parametrize(("turns_deg", "agree"), [
    ((14.9, -14.9), True), ((15.1, 0), False), ((-15.1, 0), False), ((0, 15.1), False), ((0, -15.1), False),
])  # fmt: skip
def test_no_run_is_taken_to_have_turned_further_than_ties_let_it(turns_deg, agree):
    made, lines = np.array([0.05, -0.04, 0.1]), np.array([[0, -40.0, 0], [40.0, 0, 0]])
    apart = told_apart([
        Logged(made + math.radians(turn) / 24 * line, 1e-8 * np.eye(3), 9, line, 24.0)
        for turn, line in zip(turns_deg, lines, strict=True)
    ])
    assert [turn for turn, _ in apart.turns_deg] == pytest.approx(turns_deg, abs=0.01)
    assert apart.agree is agree


def test_two_runs_on_one_heading_or_with_work_between_tell_nothing():
    same = run("2027-06-15", 10, turn_deg=5), run("2027-06-16", 0, turn_deg=5)
    assert isinstance(asked(recorded(*same)), Unproven)
    apart = run("2027-06-14", 90, turn_deg=4), run("2027-06-16", 0, turn_deg=5)
    assert isinstance(asked(recorded(*apart)), Clear)
    moved = ["date: 2027-06-15, kind: moved, part: battery-tray"]
    assert isinstance(asked(recorded(*apart, logbook=moved)), Unproven)


def test_a_run_on_another_heading_that_tells_nothing_by_itself_tells_no_turn():
    nobody_knows_what = run("2027-06-15", 90, turn_deg=4).replace("field_is: raw\n", "")
    told = expect(Unproven, asked(recorded(nobody_knows_what, run("2027-06-16", 0, turn_deg=5))))
    assert told.message == "the run of 2027-06-16 shows interference, or a turn of 5.0° by 24 A"


def test_two_runs_that_nothing_explains():
    text = recorded(run("2027-06-15", 90, (0, 0, 0.3)), run("2027-06-16", 0, turn_deg=5))
    told = expect(Unproven, asked(text))
    assert told.message == (
        "neither interference nor a turn explains both runs, of 2027-06-15 and 2027-06-16"
    )


@pytest.mark.parametrize(("made", "kind"), [
    ((0.0, -0.12, 0.0), Unproven), ((0.024, -0.12, 0.0), Unproven), ((0.0, -0.12, 0.012), Unproven),
    ((0.03, -0.12, 0.0), Clear), ((0.0, -0.12, 0.03), Clear), ((0.12, 0.0, 0.0), Clear),
    ((0.0, -0.35, 0.0), Unproven), ((0.0, -0.50, 0.0), Clear),  # 12° and 17° of turn
    ((0.0, -0.035, 0.0), Clear), ((0.0, -0.05, 0.0), Unproven),  # 4.2° and 6.1° of heading at full throttle
])  # fmt: skip
def test_both_sides_of_what_a_turn_explains(made, kind):
    """Off the line by more than 2.45·5° round or 2.45·2.5° up, or more than a turn of 15°, or less than the aim."""
    text = recorded(run("2027-06-16", 0, made, noise=0.002), offset=np.negative(made))
    assert isinstance(asked(text), kind)


def test_without_its_hard_iron_any_level_interference_is_held_up_until_that_is_written():
    text = recorded(run("2027-06-16", 0, (0.12, 0, 0)), offset=(-0.12, 0, 0), hard="")
    told = expect(Unproven, asked(text))
    assert told.message == (
        "the run of 2027-06-16 may show a turn under thrust: hard iron, not recorded, would tell"
    )
    assert told.do == "write compass.hard_iron_ut as the flight controller has it, [0, 0, 0] where it has none"
    assert (told.mind, told.on_paper) == (PACK_UNPLUGGED, True)
    steep = recorded(run("2027-06-16", 0, (0.12, 0, 0.05)), offset=(-0.12, 0, -0.05), hard="")
    assert isinstance(asked(steep), Clear)
    compensated = run("2027-06-16", 0, (0.12, 0, 0), added=(-0.12, 0, 0))
    told = expect(Unproven, asked(recorded(compensated, offset=(-0.12, 0, 0))))
    assert told.do == "write in_force.hard_iron_ut of the run, [0, 0, 0] where it had none"


def test_no_hover_is_needed_where_full_throttle_is_clear():
    made = (0.1, 0.05, 0.06)
    for rule in (ERROR, "interference/heading-error-aim"):
        text = recorded(run("2027-06-16", 0, made), offset=np.negative(made), hover=False)
        assert isinstance(asked(text, rule), Clear)


def drawn(rng, made_ut_per_a, turn_deg=0.0, u=0.002):
    """A run on any heading with interference of this size in any direction, seen with a hard iron known to 2 µT."""
    way, heading = rng.normal(size=3), rng.uniform(0, 360)
    made = made_ut_per_a * way / np.linalg.norm(way)
    true = body(heading) + HARD
    turned = (body(heading + turn_deg) + HARD - true) / 24
    seen = true + rng.normal(0, 2.0, 3)
    cov = u**2 * rng.chisquare(9) / 9 * np.eye(3)
    return Logged(made + turned + rng.normal(0, u, 3), cov, 9, np.array([seen[1], -seen[0], 0.0]), 24.0), made


def test_how_many_sound_aircraft_are_asked_for_a_second_run_and_how_many_turns_are_seen(capsys):
    """Of the sizes that matter: less than 0.04 µT/A turns no heading by 5° at 84 A here. Printed, in percent."""
    rng, draws = np.random.default_rng(3), 1500
    sound = {size: np.mean([is_explained(drawn(rng, size)[0]) for _ in range(draws)]) for size in (0.05, 0.1, 0.2, 0.3)}
    turned = {turn: np.mean([is_explained(drawn(rng, 0.0, turn)[0]) for _ in range(draws)]) for turn in (2, 5, 10)}
    with capsys.disabled():
        print("\ninterference µT/A in any direction, asked for a second run, %")
        print("\n".join(f"{size:4.2f} {100 * share:6.2f}" for size, share in sound.items()))
        print("turn °, held up, %")
        print("\n".join(f"{turn:4d} {100 * share:6.2f}" for turn, share in turned.items()))
    assert max(sound.values()) < 0.04
    assert min(turned.values()) > 0.95


def test_the_joint_fit_holds_what_was_made_and_flags_few_pairs(capsys):
    rng, draws, held, agreed = np.random.default_rng(4), 500, 0, 0
    for _ in range(draws):
        made, headings = rng.normal(0, 0.1, 3), rng.uniform(0, 360) + np.array([0, rng.uniform(60, 120)])
        runs = []
        for heading, turn in zip(headings, rng.uniform(-6, 6, 2), strict=True):
            true = body(heading) + HARD
            seen = true + rng.normal(0, 2.0, 3)
            turned = (body(heading + turn) + HARD - true) / 24
            cov = 0.002**2 * rng.chisquare(9) / 9 * np.eye(3)
            measured = made + turned + rng.normal(0, 0.002, 3)
            runs.append(Logged(measured, cov, 9, np.array([seen[1], -seen[0], 0.0]), 24.0))
        apart = told_apart(runs)
        held += bool(np.linalg.norm(apart.made - made) <= expanded_radius_3d(apart.covariance, apart.dof))
        agreed += apart.agree
    with capsys.disabled():
        print(f"\njoint fit: ball of 95 % holds {100 * held / draws:.1f} %, runs agree {100 * agreed / draws:.1f} %")
    assert held >= stats.binom.ppf(0.01, draws, 0.95)
    assert agreed >= stats.binom.ppf(0.01, draws, 0.95)


def test_a_compass_that_is_not_there_or_not_relied_on():
    assert asked(manifest() + "compass: none\n") == NotApplicable("no compass is fitted")
    assert isinstance(outcome(inspect_text(recorded(), JUDGED_ON), ERROR), Unproven)
