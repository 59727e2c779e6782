"""What a name means, as people read it in a terminal; several meanings of one name shortly."""

from collections.abc import Sequence

from preflint.meanings.meaning import Meaning
from preflint.render.catalogue import manual_page
from preflint.render.page import Page


def explained(meanings: Sequence[Meaning], width: int = 80, ascii_only: bool = False) -> str:
    """All that is known of one meaning; of several what each is, and what to ask for to be told the rest."""
    page = Page(width, ascii_only, colour=False)
    if len(meanings) > 1:
        for meaning in meanings:
            page.gap()
            _shortly(page, meaning)
        page.gap()
        page.say(f"For more of one, ask for its name: preflint explain {meanings[-1].name}")
    else:
        _whole(page, meanings[0])
    return page.text()


def _shortly(page: Page, meaning: Meaning) -> None:
    page.say(f"{meaning.name}, {meaning.sort}")
    page.say(meaning.text, "  ", "  ")


def _whole(page: Page, meaning: Meaning) -> None:
    if meaning.rule is not None:
        page.lines += manual_page(meaning.rule, page.width).splitlines()
        return
    _shortly(page, meaning)
    room = max((len(label) for label, _ in meaning.facts), default=0) + 4
    for label, text in meaning.facts:
        page.say(text, f"  {label}:".ljust(room), " " * room)
    if meaning.lines:
        page.gap()
        page.paste(meaning.lines)
