"""The card for the first hover: what to expect, what to do in which order, when to land, what to look at after it."""

import math
from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from preflint.compute.decision import t_factor
from preflint.findings.inspected import Inspected
from preflint.findings.ladder import ladder
from preflint.findings.outcome import CAUTION, NO_GO, Finding
from preflint.findings.result import Figure
from preflint.load.quoting import as_argument
from preflint.precautions import AFTER_FLIGHT
from preflint.render.head import broke_down, head
from preflint.render.ladder import how_far
from preflint.render.page import Page, number

STEPS = (
    "Open ground, little wind, everyone behind the pilot. A full pack.",
    "Pack unplugged: look at every prop: its own hand, domed side up, nut tight.",
    "Stand clear, plug in, arm, cut-off at hand. Motors slow: no scrape, no smoke.",
    "Raise the throttle until it is light. It must not lean, turn or creep.",
    "Lift to about 1 m at once. Hold it half a minute; try each stick a little.",
    "Land after two minutes at the most.",
)
AFTERWARDS = (
    f"{AFTER_FLIGHT.sentences[0]} All motors alike, none hot; no nut moved; the pack no more than warm. Note it:"
)


def say_first_hover(page: Page, inspected: Inspected) -> None:
    """The card of one aircraft; one that is grounded says so first, and is told nothing that sounds like leave."""
    head(page, inspected)
    broke_down(page, inspected)
    _before_it(page, inspected)
    page.gap()
    page.say("FIRST HOVER, low and short: for a maiden flight and the first after work.")
    _expected(page, inspected.computed)
    page.gap()
    for i, step in enumerate(STEPS, 1):
        page.say(step, f"{i}. ", "   ")
    _land(page, inspected.computed)
    _after(page, inspected)


def _before_it(page: Page, inspected: Inspected) -> None:
    """Why it may not fly and what comes first; else the cautions that its pilot must know."""
    found = Counter(r.rule.severity for r in inspected.results if isinstance(r.outcome, Finding))
    if inspected.verdict == "go-with-cautions":
        page.say(f"Know the {number(found[CAUTION], 'caution')} first: --detail full.")
    if inspected.verdict not in ("no-go", "unproven"):
        return
    steps = ladder(inspected)
    wrong = f" {number(found[NO_GO], 'no-go')} found." if found[NO_GO] else ""
    page.say(f"GROUNDED: do not hover.{wrong}")
    if steps:
        page.say(f"{how_far(steps)}.")
    page.say("What to do about it: --detail jobs. The card below is for when it is settled.")


def expected(computed: Sequence[Figure], quote: Callable[[str], str]) -> Iterator[tuple[str, str]]:
    """What is to be seen, each with its range at 95 %, or what to record to be told; ``quote`` shows a pack's label."""
    throttle = _told(computed, "predicted_hover_throttle_percent")
    lacking = "not told; record max_thrust_g and takeoff_mass_g"
    yield "Throttle", f"{_range(throttle)} % of full" if throttle else lacking
    current = _told(computed, "predicted_hover_current_a")
    lacking = "not told; record takeoff_mass_g, packs and props"
    yield "Current", f"{_range(current)} A" if current else lacking
    for volts in (one for one in computed if one.quantity == "predicted_hover_voltage_v"):
        pack = f" with pack {quote(volts.case)} full" if volts.case else " with a full pack"
        yield "Volts", f"{_range(volts)} V{pack}"


def land_signs(computed: Sequence[Figure], quote: Callable[[str], str]) -> list[str]:
    """When to land at once, by what is seen and by what is shown."""
    signs = ["it leans, turns or shakes", "a sound is new", "a stick answers late or wrongly"]
    throttle, current = (
        _told(computed, name) for name in ("predicted_hover_throttle_percent", "predicted_hover_current_a")
    )
    if throttle is not None:
        signs.append(f"throttle above {min(100.0, _upper(throttle)):.{_digits(throttle)}f} %")
    if current is not None:
        signs.append(f"more than {_upper(current):.{_digits(current)}f} A")
    limits = [one for one in computed if one.quantity == "land_at_voltage_v"]
    named = len({one.value for one in limits}) > 1
    for one in limits[:1] if not named else limits:
        pack = f" of pack {quote(one.case)}" if named and one.case else ""
        signs.append(f"less than {one.value:.1f} V{pack}")
    return signs


def record_afterwards(inspected: Inspected) -> str:
    """The command that notes what was seen after it."""
    return f"preflint record after_flight_look {as_argument(inspected.reached_by or inspected.manifest)}"


def _expected(page: Page, computed: Sequence[Figure]) -> None:
    for label, told in expected(computed, page.quote):
        page.say(told, f"{label:<10}", " " * 10)


def _land(page: Page, computed: Sequence[Figure]) -> None:
    page.say(f"{', '.join(land_signs(computed, page.quote))}.", "Land at once if  ", "    ")


def _after(page: Page, inspected: Inspected) -> None:
    page.gap()
    page.say(AFTERWARDS, "After  ", "    ")
    page.say(record_afterwards(inspected), "    > ", "      ")


def _told(computed: Sequence[Figure], quantity: str) -> Figure | None:
    return next((one for one in computed if one.quantity == quantity), None)


def _range(one: Figure) -> str:
    """From least to most, at 95 %: what is seen outside of it is not as expected."""
    reach = _reach(one)
    digits = _digits(one)
    return f"{max(0.0, one.value - reach):.{digits}f} to {_upper(one):.{digits}f}"


def _digits(one: Figure) -> int:
    return 1 if one.unit == "V" or one.value < 10 else 0


def _upper(one: Figure) -> float:
    return one.value + _reach(one)


def _reach(one: Figure) -> float:
    return t_factor(math.inf if one.dof is None else one.dof) * (one.standard_uncertainty or 0.0)
