"""Does the pilot notice the warning?"""

from preflint.api import (
    NO_GO,
    PACK_IN_PROPS_OFF,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    fitted,
    records,
    rule,
)

from .set import BY_VOLTS, in_words, told_number, warnings_of

LATE = Tolerance(
    "warning_late_percent",
    "%",
    2.0,
    "lower",
    "common practice, no source",
    "how far below the voltage that is set a warning may come",
)
_OF_A_CELL_V = 4.5  # a display that shows less shows a cell
_HOW = f"{records.KINDS['warning_test'].take}; write a warning_test"


@rule(
    "warnings/heard",
    each="aircraft",
    severity=NO_GO,
    job=Job.PACK_IN,
    precaution=PACK_IN_PROPS_OFF,
    source="common practice, no source (a warning is tried before it is relied on)",
    tolerances=(LATE,),
)
def heard(aircraft: Aircraft, on: Context) -> Outcome:
    """Was a battery warning tried, and noticed?

    A buzzer that the props drown, a lamp on the far side, a word on a display that nobody looks at: a warning that
    was never tried warns nobody.

    One of the warnings that are set, at least, must have been tried (`warning_test`) since warnings, voltage or
    current scale were last set anew, and noticed. One that was not noticed stays failed until a later test of the same
    thing passes. Where the pack was run down to the warning, it must have come within `warning_late_percent` of the
    voltage of the pack that is set; what is set for a cell is taken times the cells of the pack that has fewest,
    unless the display showed a cell's volts (below 4.5 V), too.

    Fails:

        battery_warnings: [{watches: pack-voltage, at_v: 14.0, does: tells}]
        records:
          warning_test: [{date: 2026-05-18, watches: pack-voltage, sounded: false}]

    Passes: the same with

        records:
          warning_test: [{date: 2026-05-18, watches: pack-voltage, sounded: true}]

    It does not check whether it is heard over the motors, in wind, or far out.
    """
    told = warnings_of(aircraft)
    if isinstance(told, NotApplicable):
        return told
    tests = aircraft.records.warning_test
    watched = dict.fromkeys([one.watches.value for one in told])
    for what in watched:
        of_it = [test for test in tests if not isinstance(test.watches, Known) or test.watches.value == what]
        if failed := on.failed("warning_test", of_it, lambda test: _noticed(test, on)):
            return failed
    tried = [test for test in tests if not isinstance(test.watches, Known) or test.watches.value in watched]
    return _noticed(on.freshest("warning_test", tried, _HOW, says=lambda test: test.sounded.value), on)


def _noticed(test: records.WarningTest, on: Context) -> Outcome:
    """What one test shows by itself."""
    what = test.watches.value if isinstance(test.watches, Known) else "a warning"
    if not test.sounded.value:
        return Finding(
            place=test.sounded.place,
            message=f"the battery warning was not noticed when it was tried ({what})",
            evidence=f"warning test of {test.date.value}",
            do="make it louder or show it where you look, then try it again",
        )
    told, came = warnings_of(on.aircraft), test.sounded_at_v
    if isinstance(told, tuple) and isinstance(came, Known):
        for one in told:
            set_to = _set_to_v(one, came.value, on.aircraft) if one.watches.value == what else None
            if set_to is not None and came.value < (1 - on.limit(LATE) / 100) * set_to:
                return Finding(
                    place=came.place,
                    message=f"the warning set to {set_to:.4g} V came at {came.value:g} V",
                    evidence=f"warning test of {test.date.value}; {in_words(one)}; {on.limit(LATE):g} % below at most",
                    do="look how the warning is set, and which voltage it watches, then try it again",
                )
    return Clear(f"noticed on {test.date.value} ({what})")


def _set_to_v(warning: fitted.BatteryWarning, came_v: float, aircraft: Aircraft) -> float | None:
    """At which volts of what the display shows it is to come; None where it watches none, or nobody wrote the cells."""
    at = told_number(warning)
    if at is None or warning.watches.value not in BY_VOLTS:
        return None
    if at is warning.at_v or came_v < _OF_A_CELL_V:
        return at.value
    cells = [pack.cells.value for pack in aircraft.packs if isinstance(pack.cells, Known)]
    return at.value * min(cells) if cells and len(cells) == len(aircraft.packs) else None
