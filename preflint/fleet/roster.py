"""The aircraft that a club expects, against those that were found: who is missing, and who is a stranger."""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from preflint.errors import NotRead
from preflint.findings.inspected import Inspected
from preflint.findings.report import Note
from preflint.fleet.plan import Plan, Task
from preflint.load.quoting import in_quotes, shorten
from preflint.policy.policy import Policy


def missing(work: Plan, told: Sequence[tuple[Task, Inspected | NotRead]]) -> tuple[str, ...]:
    """Names on a roster that no manifest bears, judged or not; only of policies whose whole folder was searched."""
    found: list[str] = []
    for policy, answers in _whole(work, told):
        there = {_plain(name) for answer in answers if (name := _name(answer)) is not None}
        found += [name for name in policy.roster if _plain(name) not in there]
    return tuple(dict.fromkeys(found))


def strangers(work: Plan, told: Sequence[tuple[Task, Inspected | NotRead]]) -> Iterator[Note]:
    """A note of each aircraft that was judged and is on no roster of its policy, where there is one."""
    for policy, answers in _whole(work, told):
        expected = {_plain(name) for name in policy.roster}
        for answer in answers:
            if isinstance(answer, Inspected) and _plain(answer.about.name.value) not in expected:
                name = answer.about.name
                yield Note(f"{in_quotes(shorten(name.value))} is not on the club's roster", name.place)


def _whole(
    work: Plan, told: Iterable[tuple[Task, Inspected | NotRead]]
) -> Iterator[tuple[Policy, list[Inspected | NotRead]]]:
    """Policies with a roster whose whole folder was searched, each with the answers about its aircraft."""
    found: dict[Path, tuple[Policy, list[Inspected | NotRead]]] = {}
    for task, answer in told:
        if task.policy and task.policy.roster:
            found.setdefault(task.policy.source.path, (task.policy, []))[1].append(answer)
    for path, (policy, answers) in found.items():
        folder = path.parent.resolve()
        if any(folder.is_relative_to(searched) for searched in work.looked_in):
            yield policy, answers


def _name(answer: Inspected | NotRead) -> str | None:
    return answer.about.name.value if isinstance(answer, Inspected) else answer.legible.name


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())
