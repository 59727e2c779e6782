"""The manual page of one rule, as a page of its own."""

import hashlib
import re
import textwrap
from collections.abc import Iterator

from preflint.aircraft.records import KINDS
from preflint.findings.rule_info import RuleInfo, Tolerance
from preflint.meanings.reads import read_by
from preflint.render.site.frame import text


def file_of(rule: RuleInfo) -> str:
    """The page's file, relative to the folder of the site."""
    return f"{rule.id}.html"


def sorts(rule: RuleInfo) -> str:
    """Its severity, and whether flight needs it, in words and in the look of their frames."""
    told = f'<span class="sort {rule.severity}">{rule.severity}</span>'
    if rule.needed_for_pack:
        return f'{told} <span class="flight">flight needs it of the pack flown today</span>'
    return f'{told} <span class="flight">flight needs it</span>' if rule.needed_for_flight else told


def rule_body(rule: RuleInfo) -> str:
    """What stands on the page between its head and its foot."""
    title, *blocks = _blocks(rule.page)
    return "\n".join([
        f"<h1><code>{text(rule.id)}</code></h1>",
        f'<p class="asks">{text(_joined(title))}</p>',
        f"<p>{sorts(rule)}</p>",
        *_mind(rule),
        *_prose(blocks),
        "<h2>Facts</h2>",
        "<dl>",
        *(f"<dt>{label}</dt><dd>{told}</dd>" for label, told in _facts(rule)),
        "</dl>",
    ])  # fmt: skip


def _mind(rule: RuleInfo) -> Iterator[str]:
    if rule.precaution:
        yield f'<p class="mind"><strong>Mind:</strong> {text(rule.precaution)}</p>'


def _blocks(manual: str) -> list[str]:
    """The first line by itself, then what empty lines part."""
    first, _, rest = manual.partition("\n")
    return [first, *(block for block in re.split(r"\n(?: *\n)+", rest.strip("\n")) if block)]


def _prose(blocks: list[str]) -> Iterator[str]:
    """What leads a fragment in, ending with a colon, becomes its heading where it is a word or two."""
    for block, after in zip(blocks, [*blocks[1:], ""], strict=True):
        told = _joined(block)
        if block.startswith(" "):
            lines = "\n".join(map(text, textwrap.dedent(block).splitlines()))
            yield f'<pre tabindex="0" role="region" aria-label="Lines of a manifest"><code>{lines}</code></pre>'
        elif after.startswith(" ") and told.endswith(":") and " " not in told:
            yield f"<h2>{text(told[:-1])}</h2>"
        else:
            yield f"<p>{text(told)}</p>"


def _joined(block: str) -> str:
    return " ".join(block.split())


def _facts(rule: RuleInfo) -> Iterator[tuple[str, str]]:
    """Labels and HTML."""
    needed = "yes: without a clear answer the aircraft is unproven" if rule.needed_for_flight else "no"
    if rule.needed_for_pack:
        needed = "of a pack that is named as flown today (--pack-label), and of no other"
    yield "Needed for flight", needed
    yield "Source", text(rule.source)
    if read := read_by(rule.id):
        yield "Reads", ", ".join(map(_key, read))
    for limit in rule.tolerances:
        yield "Limit", f'<a href="../limits.html#{limit_anchor(limit)}"><code>{text(limit.name)}</code></a> ' + text(
            f"{limit.with_unit(limit.default)}: {limit.meaning}"
        )


def limit_anchor(limit: Tolerance) -> str:
    """Its name; a hash of it where a rule module's own name would be no anchor."""
    if re.fullmatch(r"[a-z][a-z0-9_]*", limit.name):
        return limit.name
    return f"limit-{hashlib.sha256(limit.name.encode('utf-8', 'backslashreplace')).hexdigest()[:16]}"


def _key(name: str) -> str:
    """A key of a kind of record leads to that kind."""
    kind = name.partition(".")[0]
    shown = f"<code>{text(name)}</code>"
    return f'<a href="../records.html#{kind}">{shown}</a>' if kind in KINDS else shown
