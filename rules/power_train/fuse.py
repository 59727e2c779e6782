"""Does the fuse hold in flight, and open before the lead burns?"""

from preflint.api import (
    ADVISORY,
    NO_GO,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Known,
    NotApplicable,
    Outcome,
    Related,
    Unproven,
    fitted,
    need,
    rule,
)
from preflint.compute.ratings import seconds_until

from .heat import lead_of
from .loads import LEARN_HOVER, all_at_full, hovering, how_to_tell

# A blade fuse carries its rating for good and opens within 5 s at twice as much: ISO 8820-3, from memory.
_OPENS_TIMES, _OPENS_S = 2.0, 5.0
# Fuse by gauge for the wires of an aircraft: FAA AC 43.13-1B CHG 1, table 11-3.
_BY_GAUGE = {22: 5, 20: 5, 18: 10, 16: 10, 14: 15, 12: 20, 10: 30, 8: 50, 6: 70, 4: 70, 2: 100, 1: 150, 0: 150}


@rule(
    "power_train/fuse-opens",
    each="pack",
    severity=NO_GO,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="ISO 8820-3 (a blade fuse opens within 5 s at twice its rating), from memory",
)
def fuse_opens(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the fuse hold in flight?

    A fuse that opens in the air stops all rotors. Of a multirotor it may protect the wires on the ground, but never by
    taking the power away in flight.

    Found where the hover (within 5 %) takes more than `fuse_a`, or full throttle of all motors (U = 11 %) more than
    twice as much. Clear where full throttle is within the rating, or within twice and the hover within it.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 2000}
        every_rotor: {motor: {full_throttle_draw_a: 17}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        packs: [{label: A1, chemistry: lipo, cells: 4, fuse_a: 15}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 18.4, mean_voltage_v: 15.2, takeoff_mass_g: 2000}]

    Passes: the same with

        packs: [{label: A1, chemistry: lipo, cells: 4, fuse_a: 80}]

    It does not check the kind of fuse: fast ones open sooner.
    """
    if not isinstance(pack.fuse_a, Known):
        return NotApplicable("no fuse is recorded")
    fuse, full, steady = pack.fuse_a, all_at_full(on), hovering(on)
    evidence = f"{steady.words}; {full.words}; fuse {fuse.value:g} A"
    told = [steady.against(fuse.value), full.against(_OPENS_TIMES * fuse.value)]
    if "found" in told:
        what = "the hover" if told[0] == "found" else "full throttle"
        return Finding(
            place=fuse.place,
            message=f"{what} opens the fuse of {fuse.value:g} A in the air",
            evidence=evidence,
            do="fit a fuse above the draw at full throttle, or none",
        )
    if "uncertain" in told:
        open_hover = steady.open and told[0] == "uncertain"
        return Unproven(
            cause="uncertain",
            place=fuse.place,
            message="whether the fuse holds in flight cannot be told",
            do=how_to_tell(steady) if open_hover else "fit a fuse above the draw at full throttle, or none",
            evidence=evidence,
            mind=LEARN_HOVER if open_hover else None,
        )
    return Clear(evidence)


@rule(
    "power_train/fuse",
    each="pack",
    severity=ADVISORY,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="ISO 8820-3, IEC 60364-5-54, both from memory; FAA AC 43.13-1B CHG 1, table 11-3, for comparison",
)
def fuse_protects(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the fuse open before the lead burns?

    At a short circuit a fuse that is too large for its lead leaves the lead to be the fuse.

    At twice its rating a blade fuse opens within 5 s. Found where the lead, from the warmth of a hot day on and losing
    no heat, is at what its insulation bears before that. The evidence has the fuse of the table for wires of light
    aircraft beside it, which flight leads are run far above.

    Fails:

        packs: [{label: A1, fuse_a: 80, lead: {gauge_awg: 18, insulation_c: 105}}]

    Passes: the same with

        packs: [{label: A1, fuse_a: 80, lead: {gauge_awg: 10, insulation_c: 200}}]

    It does not check what the pack can give, nor that the fuse holds in flight, which fuse-opens tells.
    """
    if not isinstance(pack.fuse_a, Known):
        return NotApplicable("no fuse is recorded")
    fuse, wire = pack.fuse_a, lead_of(pack, on)
    low, high = (
        seconds_until(wire.gauge_awg, _OPENS_TIMES * fuse.value, min(wire.around_c, bears), bears)
        for bears in wire.bears_c
    )
    table = _BY_GAUGE.get(wire.gauge_awg)
    beside = f"; the table for light aircraft has {table} A" if table else ""
    evidence = (
        f"{wire.in_words()}: at twice {fuse.value:g} A at its limit after {low:.1f} to {high:.1f} s, the fuse opens "
        f"within {_OPENS_S:g} s{beside}"
    )
    if low >= _OPENS_S:
        return Clear(evidence)
    if high >= _OPENS_S:
        need(pack.lead.insulation_c)
    return Finding(
        place=fuse.place,
        message=f"the lead is too thin for a fuse of {fuse.value:g} A to protect it",
        evidence=evidence,
        do="solder in a thicker lead, or fit a smaller fuse that still holds at full throttle",
        related=(Related(wire.place, f"the lead, {wire.gauge_awg} AWG"),),
    )
