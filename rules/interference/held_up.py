"""The run that speaks, unless a turn under thrust explains it; then two runs on different headings."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from math import inf, radians, sin, tan

from preflint.api import PACK_UNPLUGGED, Context, Open, Related, Unproven, records
from preflint.arrays import np
from preflint.compute.decision import effective_dof, t_factor
from preflint.compute.geomagnetism import deviation_deg, horizontal_disturbance_ut
from preflint.compute.least_squares import Array

from ..power.draw import full_current_a, hover_current_a
from ..shared.loaded_run import again
from ..shared.successive import last_two
from .earth import earth_field
from .limits import HEADING_AIM, TILTS_DEG
from .run import Run, fitted, latest_run, steps_again
from .still_field import NoIron, still_field
from .turning import MOST_TURN_DEG, U_LEAN, Apart, Logged, is_explained, told_apart

_APART_DEG = 30.0  # between the headings of two runs; nearer ones tell no turn from interference


def fitted_run(on: Context) -> Run:
    """The run that still speaks, for each ampere shown now. Ends the rule as unproven without one.

    Where a turn in the ties explains what it shows, it speaks only together with a run on another heading, and is
    then what the two tell of interference.
    """
    return on.once(_fitted_run, on)


def _fitted_run(on: Context) -> Run:
    run = on.once(fitted, on, latest_run(on))
    if not _matters(on, run):
        return run
    still = still_field(on, run.record)
    if isinstance(still, NoIron):
        if _is_level(run, _horizontal_ut(on)):
            raise Open(_held_up_by_iron(run, still))
        return run
    one = logged(run, still.per_turn)
    if not is_explained(one):
        return run
    pair = other_heading(on, run)
    if pair is None:
        raise Open(_held_up(run, one))
    other, apart = pair
    if not apart.agree:
        raise Open(_contradict(run, other))
    (turn, u), (turn_then, u_then) = apart.turns_deg
    words = (
        f"told apart from a turn by the run of {other.record.date.value} on another heading: turned by "
        f"{turn:.1f} ± {t_factor(apart.dof) * u:.1f}° and {turn_then:.1f} ± {t_factor(apart.dof) * u_then:.1f}°"
    )
    return replace(
        run,
        slope=apart.made + run.offset_then,
        covariance=apart.covariance,
        dof=apart.dof,
        drift_in_words="; ".join(part for part in (run.drift_in_words, words) if part),
    )


def logged(run: Run, per_turn: Array) -> Logged:
    """As the fit of turns takes it; the offset in a compensated log is taken out."""
    top_a = float(run.steps.current.max()) / run.rescaled
    return Logged(-run.needed_offset, run.covariance, run.dof, per_turn, top_a)


def other_heading(on: Context, run: Run) -> tuple[Run, Apart] | None:
    """The run before on another heading, nothing having been done in between, and what both together tell."""
    pair = last_two(on, "interference_run", on.aircraft.records.interference_run)
    if isinstance(pair, str) or pair[1] is not run.record:
        return None
    try:
        other = on.once(fitted, on, pair[0])
        fields = [still_field(on, one.record) for one in (run, other)]
    except Open:
        return None
    lines = [field.per_turn for field in fields if not isinstance(field, NoIron)]
    if len(lines) < 2:
        return None
    across = np.linalg.norm(np.cross(lines[0], lines[1])) / np.prod([np.linalg.norm(line) for line in lines])
    if across < sin(radians(_APART_DEG)):
        return None
    return other, told_apart([logged(run, lines[0]), logged(other, lines[1])])


def _matters(on: Context, run: Run) -> bool:
    """Whether all of what the run shows turns the heading by more than is aimed at, by whatever current is known."""
    aim, currents = on.limit(HEADING_AIM), list[float]()
    with suppress(Open):
        currents.append(full_current_a(on.aircraft))
    with suppress(Open):
        currents.append(hover_current_a(on)[0])
    horizontal = _horizontal_ut(on)
    if not currents or horizontal is None:
        return True
    most = max(horizontal_disturbance_ut(run.needed_offset * max(currents), tilt) for tilt in TILTS_DEG)
    return deviation_deg(most, horizontal) > aim


def _horizontal_ut(on: Context) -> float | None:
    try:
        return earth_field(on).horizontal_ut
    except Open:
        return None


def _is_level(run: Run, horizontal_ut: float | None) -> bool:
    """Whether what the run shows has no vertical part, so that a turn on some heading explains it."""
    made, size = run.needed_offset, float(np.linalg.norm(run.needed_offset))
    top_a = float(run.steps.current.max()) / run.rescaled
    if horizontal_ut and size * top_a > horizontal_ut * tan(radians(MOST_TURN_DEG)):
        return False
    u_run, u_line = float(run.covariance[2, 2]) ** 0.5, size * U_LEAN
    dof = effective_dof([(u_run, run.dof), (u_line, inf)])
    return abs(float(made[2])) <= t_factor(dof) * float(np.hypot(u_run, u_line))


def _second(record: records.InterferenceRun) -> str:
    return (
        "log a second run with the nose turned by about 90°; let nothing turn or shift; write it beside this one; "
        f"{steps_again(record)}"
    )


def _held_up(run: Run, one: Logged) -> Unproven:
    day = run.record.date.value
    return Unproven(
        cause="uncertain",
        place=run.record.place,
        message=f"the run of {day} shows interference, or a turn of {abs(one.turn_deg):.1f}° by {one.top_a:.0f} A",
        evidence="what it shows lies across the horizontal field; interference stays with the aircraft, what a turn "
        "makes follows the nose",
        do=_second(run.record),
        mind=again(run.record),
        record="interference_run",
    )


def _held_up_by_iron(run: Run, still: NoIron) -> Unproven:
    day = run.record.date.value
    return Unproven(
        cause="uncertain",
        place=still.place,
        message=f"the run of {day} may show a turn under thrust: hard iron, not recorded, would tell",
        evidence="what it shows has no vertical part; hard iron tells on what heading the aircraft stood",
        do=still.do,
        related=(Related(run.record.place, f"the run of {day}"),),
        mind=PACK_UNPLUGGED,
        on_paper=True,
    )


def _contradict(run: Run, other: Run) -> Unproven:
    day, before = run.record.date.value, other.record.date.value
    return Unproven(
        cause="uncertain",
        place=run.record.place,
        message=f"neither interference nor a turn explains both runs, of {before} and {day}",
        do="tie the aircraft down so that nothing turns or shifts; log both headings again; "
        f"{steps_again(run.record)}",
        related=(Related(other.record.place, f"the run of {before}"),),
        mind=again(run.record),
        record="interference_run",
    )
