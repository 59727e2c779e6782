"""The club's file ``preflint.yaml`` at the top of a tree, or another that the user names, as it is written."""

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field
from pathlib import Path

from preflint.errors import NotRead, Problem, UsageError
from preflint.frozen import dataclass
from preflint.load.documents import Documents
from preflint.load.names import POLICY_NAME, nearly_policy
from preflint.load.node import Node
from preflint.load.opening import describe_failure
from preflint.load.quoting import show
from preflint.load.tree import Tree


@dataclass(frozen=True, slots=True)
class PolicySource:
    """``document`` as written; ``site`` is the field day's, read from its file where it names one.

    ``file`` is the name shown, ``path`` the policy itself; ``site_file`` the site's name beside it, or None.
    """

    file: str
    path: Path
    sha256: str
    document: Node
    site: Node | None
    site_file: str | None
    documents: Documents = field(repr=False, compare=False)

    def refused(self, said: str, problems: Iterable[Problem]) -> UsageError:
        """The error that tells these problems, each with its line."""
        return refused(said, self.file, self.documents.quoted(problems))


def read_policy(tree: Tree) -> PolicySource | None:
    """The policy at the top of the tree; None where there is none. Raises UsageError where it cannot be read."""
    if tree.policy is None:
        return None
    documents = Documents(tree)
    try:
        document = documents.read(tree.policy)
        site, site_file = _site(documents, document)
    except NotRead as error:
        raise refused("the policy cannot be read", error.file, documents.quoted(error.problems)) from None
    import hashlib  # only where there is a policy

    sha256 = hashlib.sha256(documents.bytes_of(tree.policy)).hexdigest()
    return PolicySource(tree.policy, tree.path(tree.policy), sha256, document, site, site_file, documents)


def named_policy(path: Path, above: Path | None = None) -> PolicySource:
    """The policy that the user names. Files that it names lie beside it, or below. Raises UsageError.

    ``above`` is the folder from which files are named; the policy's own where that does not hold it.
    """
    tree = Tree(path.parent.absolute(), path.name)
    source = read_policy(tree.named_from(above or tree.root))
    assert source is not None  # this tree has a policy by its making
    return source


def refuse_misnamed(folders: Iterable[Path]) -> None:
    """Raises UsageError where one of the folders holds a file that was surely meant as the policy.

    Whoever wrote it takes it to be in force. A folder that may not be listed has none that can be told; NotRead where
    the system fails to list one, since nobody knows then.
    """
    for folder in sorted(folders):
        try:
            names = set(os.listdir(folder))
        except (PermissionError, FileNotFoundError, NotADirectoryError):
            continue
        except OSError as error:
            why = f"whether this folder holds a misnamed {POLICY_NAME} is not to be seen: {describe_failure(error)}"
            raise NotRead(show(str(folder)), [Problem(why)]) from None
        if misnamed := sorted(name for name in names if nearly_policy(name, names)):
            why = f"this is named nearly like a club policy; name it {POLICY_NAME}, or move it away"
            raise UsageError(f"{show(str(folder / misnamed[0]))}: {why}")


def refused(said: str, file: str, problems: Sequence[Problem]) -> UsageError:
    return UsageError(f"{said}: {_told(file, problems)}", said, problems)


def _told(file: str, problems: Sequence[Problem]) -> str:
    """Problems on one line, each with its place; of many the first few."""
    said = []
    for problem in problems[:5]:
        place = problem.place
        where = f"{place.file}:{place.line}:{place.column}" if place else file
        said.append(f"{where}: {problem.message}")
    more = [f"and {len(problems) - 5} more"] if len(problems) > 5 else []
    return " | ".join([*said, *more])


def _site(documents: Documents, document: Node) -> tuple[Node | None, str | None]:
    day = document.value.get("field_day") if isinstance(document.value, Mapping) else None
    site = day.value.get("site") if day and isinstance(day.value, Mapping) else None
    if site is None or not isinstance(site.value, str):
        return site, None
    name = documents.tree.resolve(site.place.file, site.value, site.place)
    return documents.read(name, site.place), name
