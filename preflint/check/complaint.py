"""One complaint about a document, put into words only when it is shown."""

from collections.abc import Callable, Iterable, Iterator

from preflint.errors import Problem
from preflint.frozen import dataclass
from preflint.load.limits import MAX_PROBLEMS, limited
from preflint.load.node import Node
from preflint.places import Place


@dataclass(frozen=True, slots=True)
class Complaint:
    """``say`` is called for the first hundred of a file only: a hostile file can hold thousands.

    ``alike`` as in ``Problem``.
    """

    place: Place
    say: Callable[[], str]
    alike: str = ""


def in_words(complaints: Iterable[Complaint], file: str) -> list[Problem]:
    """As problems in the order of the file; those of other files (shared parts) come after ``file``'s own."""
    ordered = sorted(complaints, key=lambda found: (found.place.file != file, found.place))
    problems: dict[Problem, None] = {}  # what an alias or a shared part repeats is said once
    count = 0
    for found in ordered:
        if len(problems) < MAX_PROBLEMS:
            problems.setdefault(Problem(found.say(), found.place, alike=found.alike))
            count = len(problems)
        else:
            count += 1
    return limited(list(problems), count)


def child(node: Node | None, *names: str) -> Node | None:
    """The node at these keys, or None where there is none."""
    for name in names:
        node = node.value.get(name) if node and isinstance(node.value, dict) else None
    return node


def entries(node: Node | None) -> Iterator[tuple[str, Node]]:
    """The keys and values of a mapping; nothing for anything else."""
    if node and isinstance(node.value, dict):
        yield from node.value.items()


def items(node: Node | None) -> Iterator[Node]:
    """The items of a list; nothing for anything else."""
    if node and isinstance(node.value, tuple):
        yield from node.value


def key_of(node: Node) -> Place:
    """Where people are pointed for something missing inside ``node``: its key; the start of a document."""
    if node.key:
        return node.key
    if node.place.pointer:
        return node.place
    return node.place._replace(end_line=node.place.line, end_column=node.place.column)
