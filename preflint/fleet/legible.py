"""Who a manifest that could not be judged speaks of, as far as it can be read at all."""

from collections.abc import Mapping

from preflint.check.complaint import child
from preflint.errors import Legible, NotRead
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.node import Node
from preflint.load.tree import Tree
from preflint.load.yaml.events import load_yaml

_LONGEST = 200


def legible(tree: Tree, manifest: str) -> Legible:
    """Name, owner and layout as they stand in the text, unchecked; None of what is no text, or too long to be one.

    Of a file that is not YAML nothing is taken, and no other file is opened.
    """
    try:
        document = load_yaml(tree.read(manifest, MAX_YAML_BYTES), manifest)
    except (NotRead, OSError, RecursionError, MemoryError):
        return Legible()
    about = child(document, "aircraft") if isinstance(document.value, Mapping) else None
    if about is None or not isinstance(about.value, Mapping):
        return Legible()
    return Legible(*(_text(about.value.get(name)) for name in ("name", "owner", "layout")))


def _text(node: Node | None) -> str | None:
    value = node.value if node else None
    return value if isinstance(value, str) and value.strip() and len(value) <= _LONGEST else None
