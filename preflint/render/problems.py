"""What keeps files from being read, for a person: each mistake once, with its line and a mark under the place."""

from collections.abc import Sequence

from preflint.errors import Problem
from preflint.places import Place
from preflint.render.page import Page
from preflint.render.snippet import snippet

_FOLD_FROM = 3
_LINES_NAMED = 10


def tell(page: Page, problems: Sequence[Problem], indent: str) -> None:
    """Every problem in its order; of three or more of one mistake in one file the first, and where the others are."""
    groups: dict[object, list[Problem]] = {}
    for at, problem in enumerate(problems):
        key = (problem.place.file, problem.alike or problem.message) if problem.place else at
        groups.setdefault(key, []).append(problem)
    for group in groups.values():
        if len(group) < _FOLD_FROM:
            for problem in group:
                _one(page, problem, indent)
        else:
            _one(page, group[0], indent)
            page.say(_others([problem.place for problem in group if problem.place]), indent + "    ")


def _one(page: Page, problem: Problem, indent: str) -> None:
    where = f"{page.at(problem.place)} " if problem.place else ""
    page.say(f"{where}{problem.message}", indent, indent + "    ")
    if problem.line and problem.place:
        deeper = indent + "      "
        lines = snippet(problem.line, problem.place, page.width - len(deeper), page.ascii_only)
        page.lines += (deeper + line for line in lines)


def _others(places: Sequence[Place]) -> str:
    lines = sorted({place.line for place in places[1:]} - {places[0].line})
    count = len(places) - 1
    if not lines:
        return f"and {count} more on this line"
    named = ", ".join(map(str, lines[:_LINES_NAMED])) + (", ..." if len(lines) > _LINES_NAMED else "")
    told = f"on {len(lines)} more lines" if len(lines) > 1 else "on one more line"
    return f"and {told}: {named}" if count == len(lines) else f"and {count} times more, {told}: {named}"
