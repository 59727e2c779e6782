"""Were tests that run motors made with the props removed?"""

from collections.abc import Collection, Mapping, Sequence

from preflint.api import Clear, Finding, Known, NotApplicable, Open, Outcome, Unproven, records

Test = (
    records.SpinTest
    | records.OutputTest
    | records.TiltTest
    | records.StickCheck
    | records.LinkLossTest
    | records.CutOffTest
)


def judge_props(tests: Mapping[str, Sequence[tuple[Test, Collection[str]]]], of_same: str) -> Outcome:
    """Judges every test that no later one has taken the place of.

    ``tests`` holds, for each kind in words, the tests up to the day judged at with what each tried; a test counts
    until all of that has been tried again later. ``of_same`` names what is tried, in words.
    """
    speaking: list[tuple[str, Test]] = []
    for kind, of_kind in tests.items():
        for test, tried in of_kind:
            later = {each for other, also in of_kind if other.date.value.after(test.date.value) for each in also}
            if not tried or not set(tried) <= later:
                speaking.append((kind, test))
    if not speaking:
        kinds = list(tests)
        return NotApplicable(f"no {', '.join(kinds[:-1])} or {kinds[-1]} is recorded")
    for kind, test in speaking:
        if isinstance(test.props, Known) and test.props.value == "fitted":
            return Finding(
                place=test.props.place,
                message=f"the {kind} of {test.date.value} was made with the props fitted",
                evidence=f"props: fitted, and no later test of the same {of_same} with the props removed",
                do=f"remove the props, repeat the {kind} and record it with props: removed",
            )
    for kind, test in speaking:
        if not isinstance(test.props, Known):
            raise Open(
                Unproven(
                    place=test.date.place,
                    message=f"whether the props were off in the {kind} of {test.date.value} is not recorded",
                    do=f"write props: removed, or props: fitted, in the {kind}",
                    on_paper=True,
                )
            )
    return Clear(f"props removed in the {' and the '.join(f'{kind} of {test.date.value}' for kind, test in speaking)}")
