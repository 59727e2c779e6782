"""The weather of the day judged for."""

from preflint.api import DESK, Context, NotApplicable, Open, Unproven, fitted


def today(on: Context) -> fitted.Day | None:
    """The weather recorded for the day judged for; None where there is none."""
    return next((day for day in on.aircraft.site.days if day.date.value.date == on.judged_on), None)


def no_weather(on: Context) -> NotApplicable:
    """What a rule answers for a day without weather."""
    return NotApplicable(f"no weather of {on.judged_on} is recorded")


def ask_for_weather(on: Context) -> NotApplicable:
    """The same, once where weather is written of other days: then this day's is open, and one rule asks for it."""
    if not on.aircraft.site.days:
        return no_weather(on)
    raise Open(
        Unproven(
            place=on.aircraft.site.days[-1].place,
            message=f"no weather of {on.judged_on} is recorded",
            do=f"read the forecast; write the weather of {on.judged_on} under days",
            mind=DESK,
        )
    )
