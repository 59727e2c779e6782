"""Names of files that any system takes, whatever a manifest is called."""

import re
from collections.abc import Iterable

INDEX, LETTERS = "index.html", "letters.html"

_END = re.compile(r"\.airframe\.ya?ml$", re.IGNORECASE)
_LONGEST = 60
# What the club's pages are called, and what some systems take for a device whatever its ending.
_TAKEN = re.compile(r"index|letters|con|prn|aux|nul|(com|lpt)\d")


def page_names(manifests: Iterable[str]) -> list[str]:
    """One for each, in their order, from the manifest's own: no two alike, capitals aside."""
    given: set[str] = set()
    names = []
    for manifest in manifests:
        plain, count = _plain(manifest), 1
        name = plain
        while name in given:
            count += 1
            name = f"{plain}-{count}"
        given.add(name)
        names.append(f"{name}.html")
    return names


def _plain(manifest: str) -> str:
    own = _END.sub("", manifest.replace("\\", "/").rpartition("/")[2])
    plain = re.sub(r"[^a-z0-9_]+", "-", own.lower(), flags=re.ASCII).strip("-")[:_LONGEST].strip("-")
    return f"aircraft-{plain}" if _TAKEN.fullmatch(plain) else plain or "aircraft"
