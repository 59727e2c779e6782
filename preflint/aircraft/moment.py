"""When something was done: a local date, with a time of day where one was written."""

import datetime as dt

from preflint.frozen import dataclass


@dataclass(frozen=True, slots=True)
class Moment:
    """``2026-04-18`` or ``2026-04-18 14:30``, local."""

    date: dt.date
    time: dt.time | None = None

    @classmethod
    def parse(cls, text: str) -> "Moment":
        """Raises ValueError where the text is no real date (or date and time)."""
        day, _, clock = text.partition(" ")
        return cls(dt.date.fromisoformat(day), dt.time.fromisoformat(clock) if clock else None)

    def __str__(self) -> str:
        return f"{self.date.isoformat()} {self.time:%H:%M}" if self.time else self.date.isoformat()

    def after(self, other: "Moment") -> bool | None:
        """True or False where the order is known; None on one day without both times (or at one minute)."""
        if self.date != other.date:
            return self.date > other.date
        if self.time is None or other.time is None or self.time == other.time:
            return None
        return self.time > other.time

    @property
    def latest(self) -> tuple[dt.date, dt.time]:
        """For sorting: a day without a time counts as its end."""
        return self.date, self.time or dt.time.max
