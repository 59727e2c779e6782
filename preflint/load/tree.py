"""The folder a manifest may read from, and nothing outside it."""

import os
import stat
from collections.abc import Mapping
from dataclasses import field, replace
from io import BufferedReader
from pathlib import Path, PurePosixPath

from preflint.errors import NotRead, Problem, UsageError
from preflint.frozen import dataclass
from preflint.load.limits import MAX_TABLE_BYTES
from preflint.load.names import POLICY_NAME
from preflint.load.opening import Refused, describe_failure, names_inside, open_inside, too_large
from preflint.load.quoting import shorten, show
from preflint.places import Place

_COMPARED = 1_000
_NAMED = 4
"""Files of a folder that are named where one is missing."""


@dataclass(frozen=True, slots=True)
class Tree:
    """A folder; files in it are named relative to it, or to a folder above it, with forward slashes.

    No link is ever followed inside it, so a name that does not climb out stays in. ``policy`` is the
    name of the policy file at its top, or None. ``unsaved`` has, by their names, files as an editor holds them: that
    is read in place of what is on the disk. ``asked_for`` collects the names of files opened, or tried. ``prefix`` is
    what each name begins with: "" where names are relative to the folder itself.
    """

    root: Path
    policy: str | None
    unsaved: Mapping[str, bytes] = field(default_factory=dict)
    asked_for: set[str] = field(default_factory=set, compare=False)
    prefix: str = ""

    @classmethod
    def around(cls, manifest: Path, unsaved: bytes | None = None) -> "Tree":
        """The tree of one manifest: the folder above it that holds ``preflint.yaml``, else its own folder.

        ``unsaved`` is the manifest as an editor holds it, who may never have saved it yet.

        Raises:
            NotRead: the manifest is missing, a link, or not a regular file, or what is above it cannot be seen.
            UsageError: more than one ``preflint.yaml`` on the way up.
        """
        shown = show(str(manifest))
        try:
            kind = _kind(manifest, unsaved is not None)
            folder = manifest.parent.resolve(strict=True)
        except (OSError, RuntimeError, ValueError) as error:
            raise NotRead(shown, [Problem(describe_failure(error))]) from None
        if stat.S_ISLNK(kind):
            raise NotRead(shown, [Problem("this is a link; name the file itself")])
        if not stat.S_ISREG(kind):
            raise NotRead(shown, [Problem("this is not a regular file")])
        tree = cls.of_folder(folder, shown)
        return tree if unsaved is None else replace(tree, unsaved={tree.name(manifest): unsaved})

    @classmethod
    def of_folder(cls, folder: Path, shown: str) -> "Tree":
        """The same of what lies in a folder without links on its way; ``shown`` goes into the errors."""
        holders = [above for above in (folder, *folder.parents) if _holds_policy(above, shown)]
        if len(holders) > 1:
            names = " and ".join(show(str(above / POLICY_NAME)) for above in holders)
            raise UsageError(f"{shown}: more than one policy on the way up: {names}; keep one of them")
        return cls(holders[0], POLICY_NAME) if holders else cls(folder, None)

    def named_from(self, above: Path) -> "Tree":
        """The same tree, its files named from a folder that holds it; as it is where that does not hold it."""
        if not self.root.is_relative_to(above):
            return self
        prefix = "".join(f"{part}/" for part in self.root.relative_to(above).parts)
        policy = None if self.policy is None else prefix + self.policy
        return replace(self, policy=policy, unsaved={prefix + name: data for name, data in self.unsaved.items()},
                       prefix=prefix)  # fmt: skip

    def below(self, name: str) -> str:
        """What a name says relative to the folder itself."""
        return name.removeprefix(self.prefix)

    def path(self, name: str) -> Path:
        """The file of a name, wherever one works."""
        return self.root / self.below(name)

    def name(self, path: Path) -> str:
        """The name in this tree of a file given by its path; links in the folders above the tree are fine.

        Raises:
            NotRead: the file is not in the tree.
        """
        try:
            below = (path.parent.resolve(strict=True) / path.name).relative_to(self.root).as_posix()
        except (OSError, RuntimeError) as error:
            raise NotRead(show(str(path)), [Problem(describe_failure(error))]) from None
        except ValueError:
            outside = f"the file is outside the folder {show(str(self.root))}"
            raise NotRead(show(str(path)), [Problem(outside)]) from None
        return self.prefix + below

    def resolve(self, referrer: str, reference: str, place: Place | None = None) -> str:
        """The name of the file that ``reference``, written in the file ``referrer``, means.

        ``place`` is where the reference is written; it goes into the problem. One that begins with a slash counts from
        the folder of the club's policy, wherever it is written; never from the top of the disk.

        Raises:
            NotRead: naming ``referrer``; the reference means nothing inside the tree.
        """
        if complaint := _bad_reference(reference, self.policy is not None):
            raise NotRead(self.shown(referrer), [Problem(complaint, place)])
        parts = [] if reference.startswith("/") else list(PurePosixPath(self.below(referrer)).parent.parts)
        for part in reference.split("/"):
            if part == "..":
                if not parts:
                    outside = f'"{show(reference)}" leads out of the folder that may be read'
                    raise NotRead(self.shown(referrer), [Problem(outside, place)])
                parts.pop()
            elif part not in ("", "."):
                parts.append(part)
        if reference.split("/")[-1] in ("", ".", ".."):
            raise NotRead(
                self.shown(referrer), [Problem(f'"{show(reference)}" names a folder, not a file', place)]
            )
        return self.prefix + "/".join(parts)

    def open(self, name: str, limit: int = MAX_TABLE_BYTES, place: Place | None = None) -> BufferedReader:
        """A regular file of at most ``limit`` bytes, opened for reading; the caller closes it.

        ``place`` is where another file refers to this one; the problem then stands there and names it.

        Raises:
            NotRead: missing, too large, a link or another thing that is no regular file, or unreadable.
        """
        self.asked_for.add(name)
        try:
            return open_inside(self.root, _parts(self.below(name)), limit)
        except FileNotFoundError as error:
            raise self._not_read(name, f"{describe_failure(error)}{self._there(name)}", place) from None
        except (Refused, OSError, ValueError) as error:
            raise self._not_read(name, describe_failure(error), place) from None

    def read(self, name: str, limit: int, place: Place | None = None) -> bytes:
        """All bytes of a file, read once; of one that is unsaved those that the editor holds.

        Raises:
            NotRead: as ``open`` does, or the file grew beyond ``limit`` while it was read.
        """
        if name in self.unsaved:
            self.asked_for.add(name)
            if len(data := self.unsaved[name]) > limit:
                raise self._not_read(name, too_large(len(data), limit), place)
            return data
        try:
            with self.open(name, limit, place) as file:
                data = file.read(limit + 1)
        except OSError as error:  # closing fails, too
            raise self._not_read(name, describe_failure(error), place) from None
        if len(data) > limit:
            raise self._not_read(name, f"the file grew beyond {limit} bytes", place)
        return data

    def _there(self, name: str) -> str:
        """What is in the folder where a file is missing, the likeliest names first."""
        folder, _, missing = self.below(name).rpartition("/")
        suffix = PurePosixPath(missing).suffix
        found = names_inside(self.root, folder.split("/") if folder else [])
        if found is None:
            return f", and no folder {show(self.prefix + folder)}" if folder else ""
        names = sorted(other for other in found[:_COMPARED] if PurePosixPath(other).suffix == suffix)
        if not names:
            return f", nor another {show(suffix)} file in its folder" if suffix else ""
        from difflib import SequenceMatcher  # only where a file is missing: reading a manifest does without

        near = sorted(names, key=lambda other: -SequenceMatcher(None, missing, other, autojunk=False).ratio())
        more = f" and {len(near) - _NAMED} more" if len(near) > _NAMED else ""
        return f"; its folder has {', '.join(map(shorten, near[:_NAMED]))}{more}"

    def _not_read(self, name: str, why: str, place: Place | None) -> NotRead:
        shown = self.shown(name)
        return NotRead(shown, [Problem(f"{shown}: {why}" if place else why, place)])

    def shown(self, path: str | Path) -> str:
        """The name shown to people: relative to the tree, forward slashes, nothing unprintable."""
        if isinstance(path, Path) and path.is_absolute() and path.is_relative_to(self.root):
            path = self.prefix + path.relative_to(self.root).as_posix()
        return show(path.as_posix() if isinstance(path, Path) else path)


def _kind(file: Path, may_be_new: bool) -> int:
    try:
        return os.lstat(file).st_mode
    except FileNotFoundError:
        if may_be_new:
            return stat.S_IFREG
        raise


def _holds_policy(folder: Path, shown: str) -> bool:
    try:
        os.lstat(folder / POLICY_NAME)
    except (FileNotFoundError, NotADirectoryError):
        return False
    except OSError as error:
        why = f"whether {show(str(folder))} holds {POLICY_NAME} is not to be seen: {describe_failure(error)}"
        raise NotRead(shown, [Problem(why)]) from None
    return True


def _parts(name: str) -> list[str]:
    parts = name.split("/")
    if any(part in ("", ".", "..") for part in parts) or "\x00" in name:
        raise Refused("this is no name of a file inside the folder that may be read")
    if os.name != "posix" and any(sign in name for sign in ":\\"):
        raise Refused("a file name cannot hold a colon or a backslash")
    return parts


def _bad_reference(reference: str, has_policy: bool) -> str | None:
    shown = f'"{show(reference)}"'
    if not reference:
        return "the name of the file is empty"
    if "\\" in reference:
        return f"{shown} holds a backslash; write folders with forward slashes"
    if ":" in reference:
        return f"{shown} holds a colon; name a file beside this one, as in logs/run.csv"
    if reference.startswith("/") and not has_policy:
        return (
            f"{shown} begins with a slash, which is the folder of {POLICY_NAME}, and there is none above this file; "
            "name the file relative to the file that refers to it"
        )
    if not reference.isprintable():
        return f"{shown} holds characters that cannot be seen"
    return None
