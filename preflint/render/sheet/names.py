"""Names of files that any system takes, whatever a manifest is called."""

import re
from collections import Counter
from collections.abc import Iterable

INDEX, LETTERS = "index.html", "letters.html"

_END = re.compile(r"\.airframe\.ya?ml$", re.IGNORECASE)
_LONGEST = 60
# What the club's pages are called, and what some systems take for a device whatever its ending.
_TAKEN = re.compile(r"index|letters|con|prn|aux|nul|(com|lpt)\d")


def page_names(manifests: Iterable[str]) -> list[str]:
    """One for each, in their order, from the manifest's own: no two alike, capitals aside.

    Where two are of one name each has its folders before it, and a number where that does not tell them apart either.
    """
    manifests = list(manifests)
    alike = Counter(map(_plain, map(_own, manifests)))
    given: set[str] = set()
    names = []
    for manifest in manifests:
        plain, count = _plain(_own(manifest)), 1
        if alike[plain] > 1:
            plain = _plain(manifest)
        name = plain
        while name in given:
            count += 1
            name = f"{plain}-{count}"
        given.add(name)
        names.append(f"{name}.html")
    return names


def _own(manifest: str) -> str:
    return manifest.replace("\\", "/").rpartition("/")[2]


def _plain(name: str) -> str:
    plain = re.sub(r"[^a-z0-9_]+", "-", _END.sub("", name).lower(), flags=re.ASCII).strip("-")[-_LONGEST:].strip("-")
    return f"aircraft-{plain}" if _TAKEN.fullmatch(plain) else plain or "aircraft"
