"""What is said of each aircraft however short the report is: its verdict and name, and what broke down."""

from preflint.findings.inspected import Inspected
from preflint.render.entries import failed
from preflint.render.page import VERDICTS, Page


def head(page: Page, inspected: Inspected) -> None:
    """Verdict, name, layout and file."""
    word, about = VERDICTS[inspected.verdict], inspected.about
    said = f"{page.quote(about.name.value)}, {about.layout.value}{with_pack(page, inspected)} "
    said += f"({page.quote(inspected.manifest)})"
    page.say(said, f"{word}  ", " " * (len(word) + 2), word)


def with_pack(page: Page, inspected: Inspected) -> str:
    """With which packs it flies today, where they were named: what follows is of these alone."""
    labels = " and ".join(page.quote(label) for label in inspected.flown_with)
    return f", flown with pack{'s' if len(inspected.flown_with) > 1 else ''} {labels}" if labels else ""


def broke_down(page: Page, inspected: Inspected) -> None:
    """The rules and figures that failed by themselves, if any."""
    items = failed(inspected)
    if items:
        page.say("BROKE DOWN: rules that failed by themselves, so what they ask is open")
    for rule, where, message in items:
        page.say(f"{rule}{f' at {where}' if where else ''}: {message}", "    ", "      ")
