"""What both rules on the whole error of the compass share: what is asked, and the words."""

from __future__ import annotations

from preflint.api import (
    FIELD_CHECK,
    SETTINGS,
    Context,
    Finding,
    NotApplicable,
    Open,
    Place,
    Related,
    Unproven,
    need,
    together,
)
from preflint.arrays import np
from preflint.compute.decision import decide

from ..inertial.positions import HOW as POSITIONS_HOW
from ..interference.deviation import deviations as of_current
from ..interference.held_up import fitted_run
from ..interference.limits import HEADING_LIMIT
from ..interference.run import Run, must_be_alive, not_asked, offset, rescaled_since, steps_again, vector
from ..shared.loaded_run import again, only_for
from .checks import DEVIATION
from .left_over import fitted_compass, hard_iron_left
from .rotation import ROTATION_HOW, matrix_needed, microtesla
from .total import Still, Total, lean, still_source, totals, unseen

# What would settle it, by what the bounds come from, and what to mind; else it is the run.
_SETTLED_BY = {
    "reference": (
        "repeat the heading check with directions that are known better, by a longer map line",
        FIELD_CHECK,
    ),
    "between": ("repeat the heading check on eight headings or more, evenly round the circle", FIELD_CHECK),
    "rotation": (ROTATION_HOW, SETTINGS),
}

_ROUND = 1.05  # ratio of axes: less turns a level heading by 1.4° at most
_NOTHING_DEG = 1.0  # less than this nobody takes away by another offset; common practice, no source

_Judged = tuple[Still, Run, list[Total], Open | None, str]


def asked(on: Context) -> _Judged | NotApplicable:
    """What both rules judge by, or why they are not asked. Ends the rule as unproven where something is missing."""
    kept = on.aircraft.records
    if not kept.interference_run:
        return NotApplicable("no interference run is recorded, which heading-error asks for")
    if not kept.heading_check and not kept.compass_rotation:
        return NotApplicable("neither a heading check, which heading-check asks for, nor a rotation is recorded")
    if answer := not_asked(on.aircraft):
        return answer
    still, run = still_source(on), fitted_run(on)
    cases, missing = totals(on)
    must_be_alive(run)
    return still, run, cases, missing, _evidence(on, still, run, cases)


def left_open(on: Context, still: Still, run: Run, missing: Open | None, evidence: str) -> Unproven | None:
    """Why nothing can be clear, though nothing is found."""
    if run.rescaled != 1:
        return rescaled_since(on, run, evidence)
    if missing:
        raise missing
    if still.check and not (still.check.goes_round and (still.check.shows_soft_iron or still.rotation)):
        return still.check.too_few(evidence)
    return None


def already_said(on: Context, still: Still) -> NotApplicable | None:
    """Where one cause by itself is beyond its limit, its own rule says so."""
    alone = of_current(on)[0]
    if max(case.low for case in alone) > on.limit(HEADING_LIMIT):
        return NotApplicable("interference by itself is beyond the limit, as heading-error says")
    if still.check:
        largest = max(still.check.errors_deg, key=abs)
        if decide(largest, still.check.u_deg, np.inf, on.limit(DEVIATION)) == "found":
            return NotApplicable("with the motors still the compass is beyond the limit, as heading-check says")
    if still.rotation and hard_iron_left(on, still.rotation).low > on.limit(DEVIATION):
        return NotApplicable("hard iron by itself is beyond the limit, as hard-iron says")
    return None


def finding(on: Context, one: Total, still: Still, run: Run, than: str, evidence: str) -> Finding:
    rested = on.latest(on.aircraft.records.six_positions)
    if rested and one.by_rotation and lean(on).most_deg > one.value / 2:
        return Finding(
            place=rested.place,
            message=f"{in_words(one)}{than}",
            evidence=f"zeros of the accelerometer make {lean(on).most_deg:.1f}° of it; {evidence}",
            do="calibrate the accelerometer on all six sides; then repeat the six positions",
            related=(Related(still_place(still), f"with the motors still: up to {one.still:.1f}°"),),
            mind=SETTINGS,
            record="six_positions",
        )
    installed = offset(on.aircraft)
    enter = f"set interference_offset_ut_per_a to {vector(run.needed_offset)} and repeat the run"
    steel = "look for steel and magnets near the compass; calibrate it away from them; repeat the heading check"
    quiet, of_iron = only_for("the heading check", FIELD_CHECK), still_place(still)
    if one.by_rotation and still.rotation:
        stretched = still.rotation.fit.axis_ratio > _ROUND
        matrix = f" and soft_iron to {matrix_needed(still.rotation)}" if stretched else ""
        steel = f"set hard_iron_ut to {microtesla(still.rotation.needed)}{matrix}, then log a rotation again"
        quiet, of_iron = only_for("the rotation", SETTINGS), still.rotation.record.place
    by_current = one.made >= one.still
    first, second = (enter, steel) if by_current else (steel, enter)
    place = installed.place if by_current else of_iron
    others = [
        Related(installed.place, f"what the current makes: up to {one.made:.1f}°"),
        Related(of_iron, f"with the motors still: up to {one.still:.1f}°"),
        Related(run.record.place, f"the run of {run.record.date.value}"),
    ]
    related = tuple(other for other in others if other.place != place)
    remedy = f"{first}; if that is not enough, {second}"
    precaution = together(again(run.record), quiet)
    if one.made < _NOTHING_DEG:
        remedy, precaution = steel, SETTINGS if one.by_rotation else FIELD_CHECK
    kind = "compass_rotation" if one.by_rotation and still.rotation else "heading_check"
    kind = "interference_run" if by_current and one.made >= _NOTHING_DEG else kind
    return Finding(
        place=place,
        message=f"{in_words(one)}{than}",
        evidence=evidence,
        do=remedy,
        related=related,
        mind=precaution,
        record=kind,
    )


def still_place(still: Still) -> Place:
    if still.check:
        errors = still.check.errors_deg
        return still.check.row_place(max(range(len(errors)), key=lambda i: (abs(errors[i]), -i)))
    assert still.rotation is not None
    return still.rotation.record.place


def worst(cases: list[Total]) -> Total:
    """The case that is most surely bad; level, where leaning makes no difference."""
    surely = max(case.low for case in cases)
    return max(
        (case for case in cases if case.low >= surely - 0.1), key=lambda case: (not case.case.tilt_deg, case.low)
    )


def too_uncertain(
    on: Context, still: Still, run: Run, cases: list[Total], limit: float, evidence: str
) -> Unproven | None:
    """Where any upper bound is above the limit, or would be with a lean that is no longer known."""
    most = max(cases, key=lambda case: round(case.high, 1))
    leaning = lean(on)
    if most.high <= limit and leaning.outdated and still.rotation and most.high + leaning.was_deg > limit:
        return Unproven(
            cause="stale",
            place=leaning.outdated.place,
            message=f"the six positions of {leaning.outdated.date.value} are outdated; their lean turned the compass "
            f"by {leaning.was_deg:.1f}°",
            do=POSITIONS_HOW,
            evidence=f"{most.high:.1f}° and {leaning.was_deg:.1f}° may be more than {limit:g}°; {evidence}",
            mind=SETTINGS,
            record="six_positions",
        )
    if most.high <= limit:
        return None
    message = f"{in_words(most)}, perhaps {most.high:.1f}°: too near {limit:g}° to tell"
    part = max(most.parts, key=lambda part: most.parts[part])
    how, precaution = _SETTLED_BY.get(part) or (
        f"repeat the run with more steps and a higher current; {steps_again(run.record)}",
        again(run.record),
    )
    return Unproven(
        cause="uncertain", place=still_place(still), message=message, do=how, evidence=evidence, mind=precaution
    )


def in_words(one: Total) -> str:
    return f"{one.case.in_words}: compass {one.value:.1f}° off at indicated {one.heading:.0f}°"


def _evidence(on: Context, still: Still, run: Run, cases: list[Total]) -> str:
    iron = ""
    if still.check:
        iron = f"heading check of {still.check.record.date.value}: {still.check.in_words()}"
        if still.rotation and not still.check.shows_soft_iron:
            iron = f"{iron}; soft iron between so few headings: by the rotation up to {on.once(unseen, on, still):.1f}°"
    if still.rotation:
        left = np.array(need(fitted_compass(on.aircraft).hard_iron_ut).value) - still.rotation.needed
        by_rotation = f"{still.rotation.in_words()}: hard iron left over {microtesla(left)} µT"
        iron = f"{iron}; {by_rotation}" if iron else by_rotation
    if still.rotation and (outdated := lean(on).outdated):
        iron = f"{iron}; a lean is left out, since the six positions of {outdated.date.value} are outdated"
    errors = "; ".join(one.in_words for one in cases)
    return (
        f"iron and current together: {errors}; with the motors still up to {max(case.still for case in cases):.1f}°; "
        f"run of {run.record.date.value}: interference left over "
        f"{vector(run.left_over(np.array(offset(on.aircraft).value)))} µT/A forward, right, down; {iron}"
    )
