"""The club's file ``preflint.yaml`` at the top of a tree."""

import hashlib
from collections.abc import Mapping

from preflint.errors import NotRead, UsageError
from preflint.load.limits import MAX_YAML_BYTES
from preflint.load.tree import Tree
from preflint.load.yaml_events import load_yaml

_KNOWN = ("preflint", "club")


def policy_of(tree: Tree) -> str | None:
    """Name and hash of the tree's policy, for the report; None where the tree has none.

    So far a policy marks the top of a tree and names the club. Raises UsageError for a policy that cannot be
    read or says more than that: a limit that is written down and not applied would be a false assurance.
    """
    if tree.policy is None:
        return None
    try:
        data = tree.read(tree.policy, MAX_YAML_BYTES)
        entries = load_yaml(data, tree.policy).value
    except NotRead as error:
        raise UsageError(f"the policy cannot be read: {error}") from error
    if not isinstance(entries, Mapping) or "preflint" not in entries or entries["preflint"].value != 1:
        raise UsageError(f"{tree.policy}: a policy begins with preflint: 1")
    for key, node in entries.items():
        if key not in _KNOWN:
            where = node.key or node.place
            raise UsageError(
                f"{tree.policy}:{where.line}:{where.column}: unknown policy key {key}; known: {', '.join(_KNOWN)}"
            )
    return f"{tree.policy} sha256:{hashlib.sha256(data).hexdigest()[:16]}"
