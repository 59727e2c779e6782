"""A date written in another way than a manifest has it, and what to write instead."""

import datetime as dt
import re
from collections.abc import Iterator

WAY = "2026-04-18 or 2026-04-18 14:30"

_CLOCK = (
    r"(?:[T ]+(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::\d{2}(?:[.,]\d{1,9})?)?"
    r"(?P<zone> ?(?:Z|[+-]\d{2}:?(?:\d{2})?))?)?"
)
_YEAR_FIRST = re.compile(r"(\d{4})(?:[-/.](\d{1,2})[-/.](\d{1,2})|(\d{2})(\d{2}))" + _CLOCK, re.ASCII)
_YEAR_LAST = re.compile(r"(\d{1,2})([-/.] ?)(\d{1,2})\2(\d{4})" + _CLOCK, re.ASCII)
_WEEK = re.compile(r"(\d{4})-?W(\d{2})-?([1-7])" + _CLOCK, re.ASCII)
_DAY_OF_YEAR = re.compile(r"(\d{4})-(\d{3})" + _CLOCK, re.ASCII)
_DAY_NAMED = re.compile(r"(\d{1,2})\.?[ -]([a-z]{3,9})\.?[ -](\d{4})" + _CLOCK, re.ASCII | re.IGNORECASE)
_MONTH_NAMED = re.compile(r"([a-z]{3,9})\.? (\d{1,2}),? (\d{4})" + _CLOCK, re.ASCII | re.IGNORECASE)
_SHORT_YEAR = re.compile(r"\d{1,2}[-/.]\d{1,2}[-/.]\d{2}", re.ASCII)
_MONTHS = ("january", "february", "march", "april", "may", "june", "july", "august", "september", "october",
           "november", "december")  # fmt: skip
_LONGEST = 60


def other_date(text: str) -> str | None:
    """What to write instead of a date in another form; None where it is none, or no day of the calendar."""
    if len(text) > _LONGEST:
        return None
    if _SHORT_YEAR.fullmatch(text):
        return f"write the year with four digits, and before the month: {WAY}"
    found = next(filter(None, (pattern.fullmatch(text) for pattern in _READERS)), None)
    if found is None:
        return None
    days = sorted(set(_days(found)))
    clock = _clock(found)
    if not days or clock is None:
        return None
    meant = [f"{day.isoformat()}{clock}" for day in days]
    if len(meant) > 1:
        day_first, month_first = (meant[1], meant[0]) if _is_day_first(found, days[1]) else meant
        return f"write {day_first} if the day stands first, {month_first} if the month does"
    if (zone := found["zone"]) and zone.strip() == "Z":
        return "this is universal time; write the local date and time, as in 2026-04-18 14:30"
    return f"write {meant[0]}" + (" if that is the time on the field's clock" if zone else "")


def _days(found: re.Match[str]) -> Iterator[dt.date]:
    """The days that it can mean."""
    for year, month, day in _readings(found):
        try:
            yield dt.date(year, month, day)
        except ValueError:
            continue


def _readings(found: re.Match[str]) -> Iterator[tuple[int, int, int]]:
    pattern, parts = found.re, found.groups()
    if pattern is _YEAR_FIRST:
        yield int(parts[0]), int(parts[1] or parts[3]), int(parts[2] or parts[4])
    elif pattern is _YEAR_LAST:
        yield int(parts[3]), int(parts[2]), int(parts[0])
        yield int(parts[3]), int(parts[0]), int(parts[2])
    elif pattern in (_DAY_NAMED, _MONTH_NAMED):
        day, month = (parts[0], parts[1]) if pattern is _DAY_NAMED else (parts[1], parts[0])
        yield from ((int(parts[2]), at, int(day)) for at, name in enumerate(_MONTHS, 1) if _names(month.lower(), name))
    else:
        try:
            if pattern is _WEEK:
                date = dt.date.fromisocalendar(int(parts[0]), int(parts[1]), int(parts[2]))
            else:
                date = dt.date(int(parts[0]), 1, 1) + dt.timedelta(days=int(parts[1]) - 1)
        except (ValueError, OverflowError):
            return
        if pattern is _WEEK or date.year == int(parts[0]):
            yield date.year, date.month, date.day


def _names(written: str, month: str) -> bool:
    return written in (month, month[:3], "sept" if month == "september" else month)


def _is_day_first(found: re.Match[str], day: dt.date) -> bool:
    return (day.day, day.month) == (int(found[1]), int(found[3]))


def _clock(found: re.Match[str]) -> str | None:
    """`` 14:30``, "" without a time of day, None where it is none."""
    if found["hour"] is None:
        return ""
    hour, minute = int(found["hour"]), int(found["minute"])
    return f" {hour:02}:{minute:02}" if hour < 24 and minute < 60 else None


_READERS = (_YEAR_FIRST, _YEAR_LAST, _WEEK, _DAY_OF_YEAR, _DAY_NAMED, _MONTH_NAMED)
