"""How much of its thrust each rotor gives at hover, and what control is left."""

from __future__ import annotations

from collections.abc import Iterator

from preflint.arrays import np
from preflint.findings.inspected import Inspected
from preflint.findings.result import Figure
from preflint.render.sheet.plotting.canvas import Plot, figure, inline, shown
from preflint.render.sheet.plotting.found import called, limit, value

_K = 1.96


def shares(one: Inspected) -> Iterator[Plot]:
    """One plot of every rotor's share at hover with a full pack, and of the most with which it is held level."""
    found = [item for item in one.computed if item.quantity == "hover_share"]
    trim = value(one, "trim_share", "lowest-voltage")
    if not found:
        return
    names = [shown(item.at) for item in found]
    percent = 100 * np.array([item.value for item in found])
    drawn, at = figure(1.3 + 0.17 * len(names)), np.arange(len(names))
    on = drawn.add_subplot()
    bars = on.barh(
        at, percent, xerr=_K * 100 * _u(found), height=0.6, color="0.8", edgecolor="black", linewidth=0.6, capsize=2,
        error_kw={"elinewidth": 0.7}, label="at hover, full pack",
    )  # fmt: skip
    for bar, of in zip(bars, at, strict=True):
        bar.set_gid(f"share-{of}")
    words = [f"At hover on a full pack the rotors give {percent.min():.0f} to {percent.max():.0f} % of their thrust"]
    if trim is not None:
        line = on.axvline(100 * trim.value, color="black", label="held level, lowest voltage: the most")
        line.set_gid("trim")
        words.append(f"the most that one gives, held level at the lowest voltage, is {100 * trim.value:.0f} %")
    bound = limit(one, "trim_share_percent")
    if bound is not None:
        on.axvline(bound, color="black", linestyle="--", label=f"{called(one)} of that, {bound:g} %").set_gid("limit")
        words.append(f"{called(one)} {bound:g} %")
    on.set_yticks(at, names)
    on.invert_yaxis()
    on.set_xlim(0, max(105.0, 100 * trim.value + 5 if trim else 0.0, float(percent.max()) + 5))
    on.set_xlabel("Share of its greatest thrust, %")
    on.legend(loc="lower left", bbox_to_anchor=(0, 1.0), ncols=1, borderaxespad=0)
    said = "; ".join(words) + "."
    yield Plot("What each rotor gives at hover, %", inline(drawn, "plot-shares", said), said)


def margins(one: Inspected) -> Iterator[Plot]:
    """One plot of the control left with all rotors turning and with each one stopped."""
    found = [item for item in one.computed if item.quantity == "authority_margin"]
    if not found:
        return
    names = ["none stopped" if item.at is None else f"{shown(item.at)} stopped" for item in found]
    percent = 100 * np.array([item.value for item in found])
    drawn, at = figure(0.9 + 0.17 * len(names)), np.arange(len(names))
    on = drawn.add_subplot()
    (points,) = on.plot(percent, at, linestyle="none", marker="D", color="black")
    points.set_gid("margins")
    on.errorbar(percent, at, xerr=_K * 100 * _u(found), fmt="none", ecolor="black", elinewidth=0.7, capsize=2)
    on.axvline(0, color="black", linestyle="--")
    on.set_yticks(at, names)
    on.set_ylim(len(names) - 0.5, -0.5)
    on.set_xlim(min(-10.0, float(percent.min()) - 10), 105)
    on.set_xlabel("Free on both sides of hover, %")
    worst = int(np.argmin(percent))
    said = (
        f"Control left at the lowest voltage: {percent[0]:.0f} % of each rotor's half range with {names[0]}"
        + (f", least {percent[worst]:.0f} % with {names[worst]}" if len(names) > 1 else "")
        + "; at 0 % or below it cannot be held."
    )
    yield Plot("Control that is left, %", inline(drawn, "plot-margins", said), said)


def _u(found: list[Figure]) -> np.ndarray:
    return np.array([item.standard_uncertainty or 0.0 for item in found])
