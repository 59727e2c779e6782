"""What the latest test made with the motors running says of a rotor."""

from collections.abc import Callable, Sequence
from typing import Literal, TypeVar

from preflint.api import PROPS_REMOVED, Context, Known, Open, Related, Unproven, records

T = TypeVar("T", records.SpinTest, records.OutputTest)


def latest_test(
    kind: Literal["spin_test", "output_test"],
    tests: Sequence[T],
    at: str,
    says: Callable[[T], Known[str] | None],
    do: str,
    on: Context,
) -> T:
    """The test that still speaks for the rotor. Ends the rule as unproven where there is none.

    It ends as order-open where another test of that day, in unknown order, says something else of the rotor.
    """
    latest = on.freshest(
        kind, tests, do, at, lambda test: says(test) is not None, PROPS_REMOVED, says=lambda _: None
    )  # what several of one day say is settled next
    mine = says(latest)
    for other in tests:
        theirs = says(other)
        if mine is None or theirs is None or latest.date.value.after(other.date.value) is not None:
            continue
        if theirs.value != mine.value:
            day, named = latest.date.value.date, kind.replace("_", " ")
            raise Open(
                Unproven(
                    cause="order-open",
                    place=mine.place,
                    message=f"two {named}s of {day} disagree about {at}, and which came first is not recorded",
                    do=f"repeat it and write the time of day: {do}",
                    evidence=f"one says {mine.value}, the other {theirs.value}",
                    related=(Related(theirs.place, f"the other says {theirs.value}"),),
                    mind=PROPS_REMOVED,
                )
            )
    return latest
