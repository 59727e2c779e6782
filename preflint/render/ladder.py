"""How far an aircraft has come on its ladder, in one line, and what is not shown yet."""

from collections.abc import Sequence

from preflint.findings.ladder import Step, Thing


def not_shown(steps: Sequence[Step]) -> str:
    """The things that are not shown yet, rung by rung; "" where all are."""
    return ", ".join(_in_words(thing) for step in steps for thing in step.things if not thing.shown)


def _in_words(thing: Thing) -> str:
    return f"{thing.title[:1].lower()}{thing.title[1:].rstrip('?.')}"


def how_far(steps: Sequence[Step]) -> str:
    """Such as "7 of 12 needed things shown; next step: meter, about 25 minutes"."""
    needed, shown = sum(len(step.things) for step in steps), sum(len(step.shown) for step in steps)
    told = f"{shown} of {needed} needed things shown"
    following = next((step for step in steps if len(step.shown) < len(step.things)), None)
    return told if following is None else f"{told}; next step: {following.rung}, about {following.minutes} minutes"
