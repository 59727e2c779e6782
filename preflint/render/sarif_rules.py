"""What a SARIF file says about the rules themselves, so that a reader needs no other page."""

import re
import textwrap
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Any

from preflint.findings.outcome import CAUTION, NO_GO
from preflint.findings.report import Report
from preflint.findings.rule_info import RuleInfo
from preflint.render.escape import printable
from preflint.render.markdown import escaped, fenced
from preflint.render.remarks import BROKE_DOWN, FOLDER, NOT_READ, NOTHING_ANSWERED

LONGEST = 1024
"""Characters of a description; services refuse more."""

_SENTENCES = re.compile(r"(?:(?<=[.!?])|(?<=[.!?][)\"]))\s+")

OWN = (
    (BROKE_DOWN, "error", "A rule or a figure failed by itself.",
     "What it asks is open, and the others went on. Report the fault with the manifest that shows it."),
    (FOLDER, "note", "Something about the folder rather than about one aircraft.",
     "It grounds nothing; it is better known than not."),
    (NOT_READ, "error", "A file could not be read as it should, so an aircraft was not judged.",
     "Correct what stands at the place. Until then nothing is known about the aircraft, and that is no pass."),
    (NOTHING_ANSWERED, "error", "Nothing that flight needs was asked and answered.",
     "Fill in the manifest: preflint draft writes one in which every open line says how it is learnt."),
)  # fmt: skip
"""The tool's own ids beside those of rules: id, level, what it says, what to do."""


def descriptors(report: Report) -> list[dict[str, Any]]:
    """Every rule that was asked about an aircraft, and the tool's own; by id."""
    asked: dict[str, RuleInfo] = {}
    for rule in (result.rule for one in report.aircraft for result in one.results):
        # Two policies may publish the pages in two places; which one is meant is then not known.
        same = asked.setdefault(rule.id, rule)
        if same.published != rule.published:
            asked[rule.id] = replace(same, published=None)
    own = [_own(*row) for row in OWN]
    return sorted([*own, *map(_descriptor, asked.values())], key=lambda rule: str(rule["id"]))


def _descriptor(rule: RuleInfo) -> dict[str, Any]:
    error, caution = rule.severity == NO_GO, rule.severity == CAUTION
    return {
        "id": rule.id,
        "name": _name(rule.id),
        "shortDescription": {"text": whole_sentences([_text(rule.title)])},
        "fullDescription": {"text": whole_sentences(_reasoning(rule))},
        **({"helpUri": rule.published} if rule.published else {}),
        "help": {"text": _help(rule), "markdown": _markdown(rule)},
        "defaultConfiguration": {"level": "error" if error else "warning" if caution else "note"},
        "properties": {
            "tags": [rule.topic.replace("_", "-"), *(["needed-for-flight"] if rule.needed_for_flight else [])],
            "precision": "high",
            "problem.severity": "error" if error else "warning" if caution else "recommendation",
        },
    }


def _own(id: str, level: str, title: str, todo: str) -> dict[str, Any]:
    return {
        "id": id,
        "name": _name(id),
        "shortDescription": {"text": title},
        "fullDescription": {"text": f"{title} {todo}"},
        "help": {"text": todo, "markdown": escaped(todo)},
        "defaultConfiguration": {"level": level},
        "properties": {
            "tags": ["preflint"],
            "precision": "very-high",
            "problem.severity": "error" if level == "error" else "recommendation",
        },
    }


def _name(id: str) -> str:
    """The name as one word, which readers of the format expect."""
    return "".join(word.capitalize() for word in re.split("[/_-]", id))


def inert(text: str) -> str:
    """SARIF texts may hold links, [text](target), and places for arguments, {0}; what was read makes neither."""
    return re.sub(r"\{(?=\d)", "{ ", text.replace("](", "] ("))


def _text(text: str) -> str:
    """A club's own rules come from the inspected folder, so their words are no more trusted than a manifest's."""
    return "\n".join(inert(printable(line)) for line in text.splitlines())


def _blocks(rule: RuleInfo) -> list[str]:
    return [block for block in re.split(r"\n\s*\n", rule.page) if block.strip()]


def _is_fragment(block: str) -> bool:
    return all(line.startswith(" ") for line in block.splitlines())


def _reasoning(rule: RuleInfo) -> Iterator[str]:
    """The title and what stands before the first fragment, without what leads it in."""
    blocks = _blocks(rule)
    for block, after in zip(blocks, [*blocks[1:], ""], strict=True):
        if _is_fragment(block) or (after and _is_fragment(after) and block.rstrip().endswith(":")):
            return
        yield _text(" ".join(block.split()))


def whole_sentences(paragraphs: Iterable[str], longest: int = LONGEST) -> str:
    """As many of the first sentences as fit; of a first one that does not fit, the words that do, and three points."""
    told = ""
    for sentence in (one for paragraph in paragraphs for one in _SENTENCES.split(paragraph)):
        longer = f"{told} {sentence}".strip()
        if len(longer) > longest:
            return told or _words(sentence, longest)
        told = longer
    return told


def _words(sentence: str, longest: int) -> str:
    """A word longer than that is cut all the same."""
    start = sentence[: longest - len(" ...")]
    return f"{start.rpartition(' ')[0] or start} ..."


def _help(rule: RuleInfo) -> str:
    return _text("\n".join([rule.page, "", *(f"{label}: {text}" for label, text in _facts(rule))]))


def _markdown(rule: RuleInfo) -> str:
    paragraphs = [
        fenced(textwrap.dedent(block)) if _is_fragment(block) else escaped(" ".join(block.split()))
        for block in _blocks(rule)
    ]
    return "\n\n".join([*paragraphs, *(f"**{label}:** {escaped(text)}" for label, text in _facts(rule))])


def _facts(rule: RuleInfo) -> Iterator[tuple[str, str]]:
    yield "Precaution", rule.precaution
    yield "Source", rule.source
    for limit in rule.tolerances:
        yield "Limit", f"{limit.told}: {limit.meaning}"
