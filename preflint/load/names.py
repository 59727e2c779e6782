"""What manifests and club policies are called, and which names were meant for one and miss it by a little."""

import re
import unicodedata
from collections.abc import Container

SUFFIX = ".airframe.yaml"
POLICY_NAME = "preflint.yaml"

_NEAR = 0.85  # two letters exchanged, or one too many, of eight
_YAML = r"\.y[aml]+"
_JSON = ".airframe.json"
_MANIFEST = re.compile(rf"\.airframe.*{_YAML}|airframes?[^a-z]*{_YAML}|\.airframe\.?$")
_LAST_WORD = re.compile(rf"([^.]+){_YAML}")
_COPY_OF_POLICY = re.compile(rf"[.#]*{re.escape(POLICY_NAME)}.+", re.DOTALL)
_POLICY = re.compile(rf"[._-]*([a-z_-]+)[._-]*{_YAML}(?:\.txt|\.bak|\.old|\.orig|~)*")


def nearly_manifest(name: str, beside: Container[str]) -> bool:
    """Whether a file of this name was surely meant as a manifest and would not be found as one.

    ``beside`` are the names in its folder: what bears a manifest's whole name and more, as copies that editors and
    patches leave and reports, says nothing that the manifest beside it does not. One that ends in .txt may be the
    manifest as it was last written: a text editor adds that.
    """
    if name.endswith(SUFFIX):
        return False
    own = name.lstrip(".#")
    folded = _folded(name)
    if SUFFIX in own and own[: own.find(SUFFIX) + len(SUFFIX)] in beside and not folded.endswith(".txt"):
        return False
    if folded.endswith(_JSON):  # JSON is YAML, too; beside its manifest it is a report
        return name[: -len(_JSON)] + SUFFIX not in beside
    if _MANIFEST.search(folded):
        return True
    last = _LAST_WORD.search(folded)
    return bool(last and _like("airframe", last[1]))


def nearly_policy(name: str, beside: Container[str]) -> bool:
    """The same of the club policy."""
    if name == POLICY_NAME or (POLICY_NAME in beside and _COPY_OF_POLICY.fullmatch(name)):
        return False
    meant = _POLICY.fullmatch(_folded(name))
    return bool(meant and _like("preflint", meant[1]))


def _like(word: str, written: str) -> bool:
    from difflib import SequenceMatcher  # only where a name is nearly right: reading a manifest does without

    return SequenceMatcher(None, re.sub("[_-]", "", written), word, autojunk=False).ratio() >= _NEAR


def _folded(name: str) -> str:
    """Without capitals, blanks, unseen characters and wide letters."""
    plain = unicodedata.normalize("NFKC", name).casefold()
    return "".join(c for c in plain if c.isprintable() and not c.isspace())
