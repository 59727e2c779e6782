"""All pages of the site: the index by topic, a page a rule, the kinds of record, the limits."""

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from preflint.aircraft.moment import Moment
from preflint.engine.rule_module import Registry
from preflint.findings.rule_info import RuleInfo
from preflint.meanings.keys import Key, keys
from preflint.meanings.meaning import of_key, of_limit
from preflint.meanings.reads import read_by, readers
from preflint.render.site.frame import page, text
from preflint.render.site.rule_page import file_of, limit_anchor, rule_body, sorts

# Stands in lines to paste: the same catalogue gives the same site on any day.
_EXAMPLE_DAY = Moment(dt.date(2026, 5, 16))


def site(registry: Registry, tool: str) -> Mapping[str, str]:
    """HTML by the name of its file. ``tool`` names what made it; nothing in it depends on the day or the machine."""
    rules = [rule.info for rule in registry.rules]
    pages = {
        "index.html": page("index.html", "Rules", _index(rules), tool, script=True),
        "records.html": page("records.html", "Kinds of record", _records(registry), tool),
        "limits.html": page("limits.html", "Limits", _limits(registry, rules), tool),
    }
    return pages | {file_of(rule): page(file_of(rule), rule.id, rule_body(rule), tool) for rule in rules}


def _index(rules: list[RuleInfo]) -> str:
    by_topic = [(topic, list(some)) for topic, some in groupby(rules, key=lambda rule: rule.topic)]
    links = "\n".join(f'<a href="#topic-{topic}">{_words(topic)}</a>' for topic, _ in by_topic)
    return "\n".join([
        "<h1>What preflint asks of an aircraft</h1>",
        f"<p>{len(rules)} rules. Each reads what was recorded, and says what does not add up.</p>",
        '<div id="finder" hidden>',
        '<label for="search">Find rules: words, a limit, or a key of your file</label>',
        '<input id="search" type="search" autocomplete="off">',
        '<p id="told" role="status"></p>',
        "</div>",
        f'<nav id="topics" aria-label="Topics">{links}</nav>',
        *(line for topic, some in by_topic for line in _topic(topic, some)),
    ])  # fmt: skip


def _topic(topic: str, rules: Iterable[RuleInfo]) -> Iterator[str]:
    yield f'<section class="topic" aria-labelledby="topic-{topic}">'
    yield f'<h2 id="topic-{topic}">{_words(topic)}</h2>'
    yield '<ul class="rules">'
    for rule in rules:
        further = " ".join([*read_by(rule.id), *(limit.name for limit in rule.tolerances)])
        yield f'<li data-words="{text(further)}"><a href="{file_of(rule)}"><code>{text(rule.id)}</code></a>'
        yield f"{sorts(rule)}"
        yield f"<p>{text(rule.title)}</p></li>"
    yield "</ul>"
    yield "</section>"


def _words(name: str) -> str:
    said = name.replace("_", " ")
    return text(said[0].upper() + said[1:])


def _records(registry: Registry) -> str:
    kinds = [key for key in keys() if key.kind is not None]
    return "\n".join([
        "<h1>Kinds of record</h1>",
        "<p>What can be shown, how it is taken, and what ends it. The day in the lines to paste is an example.</p>",
        *(line for key in kinds for line in _kind(key, registry)),
    ])  # fmt: skip


def _kind(key: Key, registry: Registry) -> Iterator[str]:
    meaning = of_key(key, _EXAMPLE_DAY, registry)
    yield f'<section aria-labelledby="{key.key}">'
    yield f'<h2 id="{key.key}"><code>{text(meaning.name)}</code></h2>'
    yield f"<p>{text(meaning.text)}</p>"
    yield "<dl>"
    for label, told in meaning.facts:
        if label != "Read by":
            yield f"<dt>{text(label)}</dt><dd>{text(told)}</dd>"
    known = {rule.info.id: rule.info for rule in registry.rules}
    if reading := [known[id] for id in readers(key.paths.values()) if id in known]:
        yield f"<dt>Read by</dt><dd>{_links(reading)}</dd>"
    yield "</dl>"
    if meaning.lines:
        lines = "\n".join(map(text, meaning.lines))
        yield f'<pre tabindex="0" role="region" aria-label="Lines to paste"><code>{lines}</code></pre>'
    yield "</section>"


def _limits(registry: Registry, rules: list[RuleInfo]) -> str:
    lines = ["<h1>Limits</h1>"]
    lines += ["<p>What rules judge by. A club's policy may move each, under <code>tolerances</code>.</p>"]
    for name, limit in sorted(registry.tolerances.items()):
        meaning, anchor = of_limit(limit, rules), limit_anchor(limit)
        lines += [f'<section aria-labelledby="{anchor}">', f'<h2 id="{anchor}"><code>{text(name)}</code></h2>']
        lines += [f"<p>{text(meaning.text)}</p>", "<dl>"]
        lines += [f"<dt>{text(label)}</dt><dd>{text(told)}</dd>" for label, told in meaning.facts if label != "Used by"]
        users = [rule for rule in rules if limit in rule.tolerances]
        lines += [f"<dt>Used by</dt><dd>{_links(users)}</dd>", "</dl>", "</section>"]
    return "\n".join(lines)


def _links(rules: Iterable[RuleInfo]) -> str:
    return ", ".join(f'<a href="{file_of(rule)}"><code>{text(rule.id)}</code></a>' for rule in rules)
