"""A YAML document to nodes with places, from parser events and within budgets.

Nothing here resolves tags, merges keys or builds Python objects: those are the parts of YAML that
run code, blow up, or read one text in two ways.
"""

from preflint.errors import NotRead, Problem
from preflint.load.limits import MAX_YAML_BYTES, limited
from preflint.load.node import Node
from preflint.load.text import FORBIDDEN, SourceText, decode
from preflint.load.yaml.builder import Builder
from preflint.load.yaml.complaints import Complaints
from preflint.places import Place


def load_yaml(data: bytes, file: str) -> Node:
    """The one document in ``data``, whose top level is a mapping; ``file`` is the name shown to people.

    An alias stands for the node it names, with that node's places. A byte order mark is allowed.

    Raises:
        NotRead: with every problem that could be found, in the order of the file.
    """
    if len(data) > MAX_YAML_BYTES:
        size = f"the file has {len(data)} bytes; at most {MAX_YAML_BYTES} are read"
        raise NotRead(file, [Problem(size, Place(file, 1, 1, 1, 1))])
    text = SourceText(decode(data, file), file)
    if merge := text.unresolved_merge():
        raise NotRead(file, text.quoted([merge]))
    unseen, count = text.unseen_characters()
    masked = SourceText(FORBIDDEN.sub("_", text.content), file) if unseen else text
    complaints = Complaints(masked)
    root = Builder(masked, complaints, follow_on=bool(unseen)).build()
    problems = sorted(unseen + complaints.problems, key=_position)
    count += complaints.count
    if problems or root is None:
        raise NotRead(file, text.quoted(limited(problems, count)))
    return root


def _position(problem: Problem) -> tuple[int, int]:
    return (problem.place.line, problem.place.column) if problem.place else (0, 0)
