"""Is full throttle within what the pack's maker promises?"""

from preflint.api import (
    CAUTION,
    PACK_UNPLUGGED,
    Clear,
    Context,
    Finding,
    Job,
    Outcome,
    Related,
    Unproven,
    fitted,
    need,
    rule,
)

from .loads import all_at_full


@rule(
    "power_train/pack-rating",
    each="pack",
    severity=CAUTION,
    job=Job.MECHANICAL,
    precaution=PACK_UNPLUGGED,
    source="makers' ratings; no standard defines the C rating of a pack",
)
def pack_rating(pack: fitted.Pack, on: Context) -> Outcome:
    """Is full throttle within the pack's own discharge rating?

    Above it the cells sag and warm, age fast, and swell. The rating is a maker's word and often twice what the cells
    bear: to be within it proves nothing, to be above even that is a warning.

    Full throttle of all motors (U = 11 %) against `capacity_mah` / 1000 times `rated_c`.

    Fails:

        every_rotor: {motor: {full_throttle_draw_a: 21}}
        rotors: [{at: front-left}, {at: front-right}, {at: rear-left}, {at: rear-right}]
        packs: [{label: A1, capacity_mah: 3000, rated_c: 20}]

    Passes: the same with

        packs: [{label: A1, capacity_mah: 6000, rated_c: 25}]

    It does not check how far the pack truly sags, which its sag run tells, nor its age and temperature.
    """
    rating = need(pack.rated_c)
    amperes, load = need(pack.capacity_mah).value / 1000 * rating.value, all_at_full(on)
    evidence = f"{load.words}; {need(pack.capacity_mah).value:g} mAh at {rating.value:g} C is {amperes:.0f} A"
    decision = load.against(amperes)
    if decision == "clear":
        return Clear(f"{evidence}, by its maker's word alone")
    related = (Related(need(pack.capacity_mah).place, "its capacity"),)
    if decision == "found":
        return Finding(
            place=rating.place,
            message=f"full throttle draws more than the {amperes:.0f} A that the pack is rated for",
            evidence=evidence,
            do="fly it without long full throttle, or fit a pack with a higher rating; feel it after each flight",
            related=related,
        )
    return Unproven(
        cause="uncertain",
        place=rating.place,
        message=f"full throttle is too near the {amperes:.0f} A that the pack is rated for to tell",
        do="feel the pack after a flight; if it is more than warm, fit one with a higher rating",
        evidence=evidence,
        related=related,
    )
