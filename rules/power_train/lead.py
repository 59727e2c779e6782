"""Does the lead bear the hover for as long as it lasts, and full throttle for seconds?"""

import math
from collections.abc import Iterator

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Absent,
    Clear,
    Context,
    Figure,
    Finding,
    Job,
    Known,
    Outcome,
    Tolerance,
    Unproven,
    figure,
    fitted,
    need,
    rule,
)
from preflint.compute.decision import u_rectangular
from preflint.compute.ratings import steady_rise_k

from ..power.draw import full_current_a
from ..power.hover_bounds import hover_bounds_a
from .heat import lead_of
from .loads import DRAW_WITHIN, LEARN_HOVER, all_at_full, hovering, how_to_tell

FULL_THROTTLE = Tolerance(
    "full_throttle_s",
    "s",
    10.0,
    "higher",
    "common practice, no source",
    "how long a lead must bear full throttle before its insulation is as warm as it may be",
)
_HOW = "solder in a thicker lead, or one with insulation for more"


@figure("lead-drop")
def lead_figures(on: Context) -> Iterator[Figure]:
    """Drop over both wires of each pack's lead at full throttle, solid copper at 20 °C; and how much it warms at hover.

    The uncertainty of the drop is that of the draw, within 10 %. The warming is the middle of two ways to go from the
    gauge of the reference to another, and its uncertainty half of what lies between, as of anything alike.
    """
    for pack in on.aircraft.packs:
        if not (isinstance(pack.lead.gauge_awg, Known) and isinstance(pack.lead.one_way_length_mm, Known)):
            continue
        lead, label = lead_of(pack, on), pack.label.value if isinstance(pack.label, Known) else None
        if all(isinstance(one.motor.full_throttle_draw_a, Known) for one in on.aircraft.rotors):
            drop = lead.drop_v(full_current_a(on.aircraft))
            u = u_rectangular(DRAW_WITHIN * drop)
            yield Figure("lead_drop_v", "full-throttle", drop, u, "V", label, lead.place)
        least, most, _ = hover_bounds_a(on)
        low, high = steady_rise_k(lead.gauge_awg, least)[0], steady_rise_k(lead.gauge_awg, most)[1]
        u = u_rectangular((high - low) / 2)
        yield Figure("lead_rise_k", "hover", (low + high) / 2, u, "K", label, lead.place)


@rule(
    "power_train/lead-heat",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="one No. 14 wire in free air carries 47 A at a rise of 150 K (FAA AC 43.13-1B CHG 1, p. 11-27); heat by the "
    "square of the current",
)
def lead(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the lead bear the hover?

    A lead that is too thin cooks its insulation, and what it lies against, for the whole flight.

    Rise = 150 K · (I / 47 A)² for No. 14 in free air, and to other gauges with the diameter to the power of -2 to -3:
    both are taken. I is the hover current, within 5 %. To the rise come 40 °C, or what the site has where that is more.
    Found where even the least of it is above `lead.insulation_c`, clear where the most is not; where nobody wrote the
    insulation it may be PVC (105 °C) or silicone (200 °C).

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 2000}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        packs: [{label: A1, chemistry: lipo, cells: 4, lead: {gauge_awg: 22, insulation_c: 105}}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 18.4, mean_voltage_v: 15.2, takeoff_mass_g: 2000}]

    Passes: the same with

        packs: [{label: A1, chemistry: lipo, cells: 4, lead: {gauge_awg: 12, insulation_c: 200}}]

    It does not check leads bundled or wrapped, which shed less heat, solder joints, nor the wires to the controllers.
    The tables of that circular for bundles of 33 wires at 60,000 ft are not used: by them no multirotor would fly.
    """
    wire, load = lead_of(pack, on), hovering(on)
    low, high = wire.settles_at_c(load)
    evidence = f"{wire.in_words()}; {load.words}: the copper settles at {low:.0f} to {high:.0f} °C"
    if low > wire.bears_c[1]:
        return Finding(
            place=wire.place,
            message=f"at hover the lead gets to {low:.0f} °C, more than it bears",
            evidence=evidence,
            do=_HOW,
        )
    if high <= wire.bears_c[0]:
        return Clear(evidence)
    if isinstance(pack.lead.insulation_c, Absent) and (low > wire.bears_c[0] or high <= wire.bears_c[1]):
        need(pack.lead.insulation_c)
    return Unproven(
        cause="uncertain",
        place=wire.place,
        message="whether the lead bears the hover cannot be told",
        do=how_to_tell(load) if load.open else "feel the lead after a flight, pack unplugged; if hot, fit thicker",
        evidence=evidence,
        mind=LEARN_HOVER if load.open else None,
    )


@rule(
    "power_train/lead-short",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="t = (k·A/I)², IEC 60364-5-54, annex A, from memory",
    tolerances=(FULL_THROTTLE,),
)
def lead_short(pack: fitted.Pack, on: Context) -> Outcome:
    """Does the lead bear some seconds of full throttle?

    Full throttle draws many times the hover, and copper warms with the square of it: a thin lead is at its limit within
    a climb.

    t = (k·A / I)² with A the copper's area and k that of copper from the warmth of the hover to `lead.insulation_c`,
    as if no heat were lost (143 A√s/mm² from 90 to 250 °C). I is the draw of all motors, U = 11 %. At the most it
    takes longer, since a wire sheds heat: it comes nearer to what it settles at (lead-heat, the least of it), or
    never gets there. Found where even the most of it is below `full_throttle_s`, clear where the least is not, or
    where the lead never gets there.

    Fails:

        aircraft: {name: Trial, layout: quad-x, takeoff_mass_g: 2000}
        every_rotor: {motor: {full_throttle_draw_a: 30}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        packs: [{label: A1, chemistry: lipo, cells: 4, lead: {gauge_awg: 16, insulation_c: 105}}]
        records:
          hover: [{date: 2026-05-17, mean_current_a: 18.4, mean_voltage_v: 15.2, takeoff_mass_g: 2000}]

    Passes: the same with

        packs: [{label: A1, chemistry: lipo, cells: 4, lead: {gauge_awg: 12, insulation_c: 200}}]

    It does not check how long a pilot holds full throttle, nor what the pack can give.
    """
    wire, full, steady = lead_of(pack, on), all_at_full(on), hovering(on)
    least, most = wire.seconds(full, steady)
    never = wire.settles_at_c(full)[1] <= wire.bears_c[0]
    limit = on.limit(FULL_THROTTLE)
    span = f"{least:.0f} to {most:.0f} s" if math.isfinite(most) else f"{least:.0f} s, or never"
    evidence = f"{wire.in_words()}; {full.words}: at its limit after {span}"
    if never or least >= limit:
        return Clear(evidence)
    if most < limit:
        return Finding(
            place=wire.place,
            message=f"full throttle brings the lead to its limit within {math.ceil(most)} s",
            evidence=evidence,
            do=_HOW,
        )
    need(pack.lead.insulation_c)
    return Unproven(
        cause="uncertain",
        place=wire.place,
        message=f"whether the lead bears {limit:g} s of full throttle cannot be told",
        do="feel the lead after a flight with some full throttle, pack unplugged; if it is hot, fit a thicker one",
        evidence=evidence,
    )
