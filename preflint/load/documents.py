"""The YAML files that one inspection reads, kept so that a problem can show its line without reading them again."""

from collections.abc import Iterable

from preflint.errors import Problem
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.node import Node
from preflint.load.text import SourceText, decode
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml
from preflint.places import Place


class Documents:
    """Files of one tree; a manifest names so few others that their bytes fit in memory."""

    def __init__(self, tree: Tree) -> None:
        self.tree = tree
        self._read: dict[str, bytes] = {}

    def read(self, name: str, place: Place | None = None) -> Node:
        """The document in a file; ``place`` is where another refers to it. Raises NotRead."""
        data = self.tree.read(name, MAX_YAML_BYTES, place)
        document = load_yaml(data, name)
        self._read[name] = data
        return document

    def bytes_of(self, name: str) -> bytes:
        """The bytes of a file that was read."""
        return self._read[name]

    def quoted(self, problems: Iterable[Problem]) -> list[Problem]:
        """The same problems; those in files that were read each with its line."""
        told = list(problems)
        for name in {problem.place.file for problem in told if problem.place and problem.line is None}:
            if name in self._read:
                told = SourceText(decode(self._read[name], name), name).quoted(told)
        return told
