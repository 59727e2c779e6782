"""Is the pack of the day warm enough to give what it gave when its sag was measured?"""

import math
from collections.abc import Iterator

from preflint.api import (
    CAUTION,
    HOVER_LOG,
    PACK_CHECK,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    Outcome,
    Related,
    Tolerance,
    Unproven,
    figure,
    fitted,
    need,
    records,
    rule,
    together,
)
from preflint.compute.decision import Decision, t_factor, u_rectangular
from preflint.compute.pack import cold_factor

from .day import checks_of

COLD = Tolerance(
    "pack_cold_c",
    "°C",
    10.0,
    "higher",
    "common practice, no source",
    "how warm a pack must be before it is asked for full power",
)
COLDER = Tolerance(
    "pack_colder_k",
    "K",
    10.0,
    "lower",
    "common practice, no source",
    "how much colder than at its sag run a pack may be",
)
_THERMOMETER_K = 1.5  # half-width of what is held to a pack; common practice, no source
_ROOM_C = 20.0
_HOW = (
    "hold a thermometer to the pack, or lay it for two hours where you know the temperature; write it in a pack_check"
)


@rule(
    "packs/cold",
    each="pack",
    severity=CAUTION,
    job=Job.LAST_LOOK,
    precaution=PACK_UNPLUGGED,
    source='bound: 50 times from +20 to -20 °C, "Studies on rate capability of lithium-ion cells at low temperatures" '
    "(1999, abstract); the limits are common practice, no source",
    tolerances=(COLD, COLDER),
)
def cold(pack: fitted.Pack, on: Context) -> Outcome:
    """Is the pack of the day warm, and about as warm as when its sag was measured?

    A cold pack sags further. At full throttle its cells fall below what they bear, the warning sounds right after
    take-off or not before the motors fade.

    Reasoning: `temperature_c` of the latest pack_check of this pack, on its own day. Found where it is below
    ``pack_cold_c``, or colder by more than ``pack_colder_k`` than the latest sag run of this pack that notes its
    temperature; each by more than U = 1.96 times 1.5 K/√3 of the thermometer (√2 times as much of two), clear above by
    as much. Told with it is how much more the pack may resist at the most: exp(B·(1/T - 1/T₀)), B = 7258 K, 2.4 times
    at 10 °C and 6.1 times at 0 °C what it is at 20 °C. That is a bound, of electrodes alone: by it nothing is found,
    and nothing clear.

    Fails:

        packs: [{label: A1}]
        records:
          pack_check: [{date: 2026-05-21, pack: A1, temperature_c: 4}]

    Passes: the same with

        records:
          pack_check: [{date: 2026-05-21, pack: A1, temperature_c: 19}]

    It does not check how fast the pack warms in flight, nor one that is too hot.
    """
    checks = tuple(check for check in checks_of(pack, on) if isinstance(check.temperature_c, Known))
    check = on.freshest(
        "pack_check", checks, _HOW, mind=PACK_CHECK, says=lambda one: need(one.temperature_c).value
    )
    here, run = need(check.temperature_c), _sag_run(pack, on)
    then = need(run.temperature_c) if run else None
    expanded, limit = t_factor(math.inf) * u_rectangular(_THERMOMETER_K), on.limit(COLDER)
    decisions = [_beyond(on.limit(COLD) - here.value, expanded)]
    compared = f"at least {on.limit(COLD):g} °C"
    if then:
        decisions.append(_beyond(then.value - here.value - limit, math.sqrt(2) * expanded))
        compared += f", and at most {limit:g} K less than the {then.value:g} °C of the sag run"
    evidence = f"{here.value:g} °C ± {expanded:.1f} °C (95 %) in the pack check of {check.date.value}; {compared}"
    known_c = then.value if then else _ROOM_C
    if here.value < known_c:
        factor = cold_factor(here.value, known_c)
        evidence += f"; it resists at the most {factor:.1f} times what it does at {known_c:g} °C (a bound)"
    related = (Related(then.place, "as warm at the sag run"),) if then else ()
    if "found" in decisions:
        return Finding(
            place=here.place,
            message=f"the pack is cold: {here.value:g} °C",
            evidence=evidence,
            do="warm the pack, in a pocket or a box; or hover one minute low, look at the volts, and land where they "
            "fall further than usual",
            related=related,
            mind=together(PACK_UNPLUGGED, HOVER_LOG),
        )
    if "uncertain" in decisions:
        return Unproven(
            cause="uncertain",
            place=here.place,
            message=f"the pack has {here.value:g} °C: too near the limit to tell",
            do="warm the pack by some degrees, and write another pack_check",
            evidence=evidence,
            related=related,
            mind=PACK_CHECK,
            record="pack_check",
        )
    return Clear(evidence)


def _beyond(by: float, expanded: float) -> Decision:
    """Of how far a limit is passed (below zero: kept by so much), and U of that."""
    if by > expanded:
        return "found"
    return "clear" if by + expanded <= 0 else "uncertain"


def _sag_run(pack: fitted.Pack, on: Context) -> records.SagRun | None:
    """The latest of this pack that notes its temperature."""
    label = need(pack.label).value
    return on.latest(
        run
        for run in on.aircraft.records.sag_run
        if isinstance(run.pack, Known) and run.pack.value == label and isinstance(run.temperature_c, Known)
    )


@figure("pack-cold")
def cold_figures(on: Context) -> Iterator[Figure]:
    """How much more a cold pack may resist than at 20 °C: a bound, so it has no uncertainty."""
    for pack in on.aircraft.packs:
        if not isinstance(pack.label, Known):
            continue
        check = on.latest(check for check in checks_of(pack, on) if isinstance(check.temperature_c, Known))
        if check is None or on.too_old("pack_check", check):
            continue
        here = need(check.temperature_c)
        if here.value < _ROOM_C:
            factor = cold_factor(here.value, _ROOM_C)
            yield Figure("cold_resistance_factor", "bound", factor, None, "1", pack.label.value, here.place)
