"""What is new, gone and still there since an earlier report, as text."""

from preflint.findings.compared import Change, Compared, ComparedAircraft
from preflint.render.page import Page, number

_NOW = {
    "clear": "clear now",
    "unproven": "not proven now",
    "not_applicable": "it does not apply now",
    "crashed": "its rule failed now",
    "finding": "found otherwise now",
}
_INDENT = "    "


def say_since(page: Page, compared: Compared) -> None:
    """Each aircraft that changed with what is new and gone; what is still there is counted."""
    page.gap()
    page.say(f"SINCE the report of {compared.judged_on}")
    for what in compared.differently:
        page.say(f"Judged differently then: {what}.", _INDENT, _INDENT * 2)
    changed = [one for one in compared.aircraft if not _is_same(one)]
    for one in changed:
        _aircraft(page, one)
    if same := len(compared.aircraft) - len(changed):
        page.say(f"Nothing new and nothing gone: {number(same, 'aircraft', 'aircraft')}.", _INDENT, _INDENT * 2)


def _is_same(one: ComparedAircraft) -> bool:
    return one.verdict == one.before and all(change.state == "there" for change in one.changes)


def _aircraft(page: Page, one: ComparedAircraft) -> None:
    name = page.quote(one.name)
    if one.before is None:
        why = ", not read then" if one.unread else ", not in that report"
        page.say(f"{name}: {one.verdict}{why}", _INDENT, _INDENT * 2)
        return
    if one.verdict is None:
        why = "not read now, so nothing is known of it" if one.unread else "not judged now"
        page.say(f"{name}: {why}; it was {one.before}", _INDENT, _INDENT * 2)
        return
    said = f"{one.verdict}, was {one.before}" if one.verdict != one.before else f"still {one.verdict}"
    still = sum(change.state == "there" for change in one.changes)
    page.say(f"{name}: {said}{f'; {still} still there' if still else ''}", _INDENT, _INDENT * 2)
    for change in one.changes:
        if change.state != "there":
            page.say(_change(change), f"{_INDENT * 2}{change.state:<4}  ", " " * 14)


def _change(change: Change) -> str:
    word = change.severity or "not proven"
    at = f" at {change.at}" if change.at else ""
    if change.state == "new":
        return f"{word}, {change.rule}{at}: {change.message}"
    now = _NOW[change.now] if change.now else "not asked now"
    return f"{word}, {change.rule}{at}: {now}"
