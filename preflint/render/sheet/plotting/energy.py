"""The charge of the planned flight against what each pack gives."""

from __future__ import annotations

from collections.abc import Iterator

from preflint.aircraft.field import Known
from preflint.arrays import np
from preflint.findings.inspected import Inspected
from preflint.findings.result import Figure
from preflint.render.sheet.plotting.canvas import Plot, figure, inline, shown
from preflint.render.sheet.plotting.found import value

_K = 1.96
_MAH_PER_A_MIN = 1000 / 60
_PARTS = ("flight", "0.55", ""), ("way home", "0.8", "////"), ("reserve", "white", "")


def energy(one: Inspected) -> Iterator[Plot]:
    """One plot of what flight, way home and reserve take of every pack that a figure tells of.

    Hover current and charge are those of the figures: way home in mAh and in seconds, minutes of hover to the reserve.
    """
    home, seconds, plan = value(one, "way_home_mah"), value(one, "way_home_s"), one.aircraft.plan
    lasts = [item for item in one.computed if item.quantity == "endurance_min"]
    if home is None or seconds is None or seconds.value <= 0 or not lasts:
        return
    if not isinstance(plan.flight_min, Known) or not isinstance(plan.reserve_percent, Known):
        return
    amperes, reserve = home.value * 3.6 / seconds.value, plan.reserve_percent.value / 100
    flight = plan.flight_min.value * amperes * _MAH_PER_A_MIN
    gives = np.array([item.value for item in lasts]) * amperes * _MAH_PER_A_MIN / (1 - reserve)
    kept = reserve * gives
    names = [shown(item.at) if item.at is not None else "pack" for item in lasts]
    drawn, at = figure(1.35 + 0.32 * len(lasts)), np.arange(len(lasts))
    on = drawn.add_subplot()
    begun = np.zeros(len(lasts))
    parts = np.full(len(lasts), flight), np.full(len(lasts), home.value), kept
    for (part, grey, hatch), mah in zip(_PARTS, parts, strict=True):
        bars = on.barh(
            at, mah, left=begun, height=0.5, color=grey, hatch=hatch, edgecolor="black", linewidth=0.6,
            label=part,
        )  # fmt: skip
        for bar, of in zip(bars, at, strict=True):
            bar.set_gid(f"{part.replace(' ', '-')}-{of}")
        begun = begun + mah
    doubt = _K * np.array([_relative(item) for item in lasts]) * gives
    (points,) = on.plot(gives, at, linestyle="none", marker="D", color="black", label="pack gives, with its doubt")
    points.set_gid("gives")
    on.errorbar(gives, at, xerr=doubt, fmt="none", ecolor="black", elinewidth=0.8, capsize=3)
    on.set_yticks(at, names)
    on.set_ylim(len(lasts) - 0.5, -0.5)
    on.set_xlim(0, 1.05 * float(max(np.max(begun), np.max(gives + doubt))))
    on.set_xlabel("Charge, mAh")
    on.legend(loc="lower left", bbox_to_anchor=(0, 1.0), ncols=2, borderaxespad=0)
    each = ", ".join(f"{name} {mah:.0f} ± {u:.0f}" for name, mah, u in zip(names, gives, doubt, strict=True))
    said = (
        f"At {amperes:.1f} A the planned {plan.flight_min.value:g} min take {flight:.0f} mAh and the way home "
        f"{home.value:.0f} mAh; {100 * reserve:g} % are kept. The pack gives, in mAh: {each}."
    )
    yield Plot("Charge of the planned flight, mAh", inline(drawn, "plot-charge", said), said)


def _relative(lasts: Figure) -> float:
    """Standard uncertainty of what the pack gives, over it: that of the minutes, hover current and all."""
    return (lasts.standard_uncertainty or 0.0) / lasts.value if lasts.value else 0.0
