"""Does the position stand still, and on how many satellites does it rest?"""

from preflint.api import (
    CAUTION,
    FIELD_CHECK,
    Aircraft,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Tolerance,
    Unproven,
    need,
    records,
    rule,
)

from .shown import relied_on, wander

SPREAD = Tolerance(
    "position_spread",
    "m",
    10.0,
    "lower",
    "common practice, no source",
    "how far the position of an aircraft at rest may wander from its mean within a check",
)
SATELLITES = Tolerance(
    "fewest_satellites",
    "1",
    6.0,
    "higher",
    "derived: four unknowns, one more to notice a wrong distance, one more to leave it out",
    "from how many satellites a position must come",
)
DILUTION = Tolerance(
    "hdop_most",
    "1",
    2.5,
    "lower",
    "common practice, no source",
    "how much worse than one distance the position may be, by where the satellites stand",
)
# As many positions, minute by minute, are a check of standing still.
_FEWEST_ROWS = 5
_ROWS_HOW = (
    "leave the aircraft at rest under open sky; write the position shown once a minute, five times or more, to five "
    "decimals, in the rows of a position_check"
)
_FIX_HOW = "read the number of satellites and the HDOP on the display; write both in a position_check"


@rule(
    "position/spread",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=FIELD_CHECK,
    source="WGS 84 (NGA.STND.0036); the limit is common practice, no source",
    tolerances=(SPREAD,),
)
def spread(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the shown position stand still while the aircraft does?

    A receiver beside a wall or a van, or under its own video transmitter, shows a position that walks about. In flight
    the aircraft walks after it, and home is set wherever it was at the moment of take-off.

    Reasoning: the farthest of the rows from their mean, in m on WGS 84, against `position_spread`. Half a last digit
    of a row may hide or feign that much: four decimals of a degree step by 11 m. Five rows or more.

    Fails:

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [satellite]}
        records:
          position_check:
            - date: 2026-05-20
              columns: [latitude_deg, longitude_deg]
              rows: [[54.41235, -2.94121], [54.41231, -2.94130], [54.41222, -2.94152], [54.41209, -2.94165],
                     [54.41201, -2.94171]]

    Passes: the same with

        records:
          position_check:
            - date: 2026-05-20
              columns: [latitude_deg, longitude_deg]
              rows: [[54.41235, -2.94121], [54.41236, -2.94120], [54.41234, -2.94120], [54.41235, -2.94123],
                     [54.41236, -2.94122]]

    It does not check whether the place is the right one (position/where): a wrong one may stand still.
    """
    if not relied_on(aircraft):
        return NotApplicable("the aircraft does not rely on position by satellite")
    return on.tested("position_check", _with_rows(aircraft), lambda check: _stands_still(check, on), _ROWS_HOW)


def _with_rows(aircraft: Aircraft) -> tuple[records.PositionCheck, ...]:
    """A check without rows takes nothing away from one that has them."""
    checks = aircraft.records.position_check
    return tuple(check for check in checks if isinstance(check.table, Known)) or checks


def _stands_still(check: records.PositionCheck, on: Context) -> Outcome:
    table, limit = need(check.table), on.limit(SPREAD)
    seen = on.once(wander, check)
    evidence = (
        f"{seen.rows} positions, the farthest {seen.metres:.1f} m from their mean, ± {seen.digit_m:.1f} m by the last "
        f"digit; at most {limit:g} m"
    )
    if seen.metres - seen.digit_m > limit:
        return Finding(
            place=table.value.place,
            message=f"the position wanders {seen.metres:.0f} m from its mean while the aircraft stands still",
            evidence=evidence,
            do="go away from walls, vehicles and steel; switch off the video transmitter; if it stands still without "
            "it move the receiver away from it; check again",
        )
    if seen.rows < _FEWEST_ROWS or seen.metres + seen.digit_m > limit:
        few = seen.rows < _FEWEST_ROWS
        return Unproven(
            cause="uncertain",
            place=table.value.place,
            message=f"{seen.rows} positions are too few to tell whether it stands still"
            if few
            else "the position's last digit is too coarse to tell whether it stands still",
            do=_ROWS_HOW,
            record="position_check",
            evidence=evidence,
        )
    return Clear(evidence)


@rule(
    "position/satellites",
    each="aircraft",
    severity=CAUTION,
    job=Job.PACK_IN,
    precaution=FIELD_CHECK,
    source="derived from the number of unknowns; the limit of HDOP is common practice, no source",
    tolerances=(SATELLITES, DILUTION),
)
def satellites(aircraft: Aircraft, on: Context) -> Outcome:
    """Does the position rest on enough satellites, well spread over the sky?

    A position from four satellites has nothing to check itself by: one distance that came off a wall, and it jumps.
    With satellites on one side of the sky only it is good along one line and poor across it, which HDOP tells.

    Reasoning: three coordinates and the receiver's clock are four unknowns. A fifth satellite shows that one of them is
    wrong, a sixth which one. HDOP times the error of one distance is the error of the position.

    Fails:

        aircraft: {name: Lapwing, layout: quad-x, relies_on: [satellite]}
        records:
          position_check: [{date: 2026-05-20, satellites: 5, hdop: 3.1}]

    Passes: the same with

        records:
          position_check: [{date: 2026-05-20, satellites: 14, hdop: 0.9}]

    It does not check how many there are in flight: banked, or beside trees, there are fewer.
    """
    if not relied_on(aircraft):
        return NotApplicable("the aircraft does not rely on position by satellite")
    return on.tested("position_check", _with_fix(aircraft), lambda check: _rests_on(check, on), _FIX_HOW)


def _with_fix(aircraft: Aircraft) -> tuple[records.PositionCheck, ...]:
    checks = aircraft.records.position_check
    told = tuple(one for one in checks if isinstance(one.satellites, Known) or isinstance(one.hdop, Known))
    return told or checks


def _rests_on(check: records.PositionCheck, on: Context) -> Outcome:
    fewest, most = on.limit(SATELLITES), on.limit(DILUTION)
    count, hdop = check.satellites, check.hdop
    wrong, place = [], check.place
    if isinstance(hdop, Known) and hdop.value > most:
        wrong, place = [f"HDOP {hdop.value:g}, at most {most:g}"], hdop.place
    if isinstance(count, Known) and count.value < fewest:
        wrong, place = [f"{count.value} satellites, {fewest:g} at least", *wrong], count.place
    if wrong:
        return Finding(
            place=place,
            message=f"the position rests on little: {'; '.join(wrong)}",
            evidence=f"position check of {check.date.value}",
            do="wait some minutes under open sky, away from walls and trees; if it stays so look at the receiver's "
            "place on the aircraft, with nothing above it; check again",
        )
    return Clear(f"{need(count).value} satellites, {fewest:g} at least; HDOP {need(hdop).value:g}, at most {most:g}")
