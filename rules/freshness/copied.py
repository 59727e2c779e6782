"""Are the readings of a record its own?"""

from preflint.api import CAUTION, Clear, Context, Finding, Job, NotApplicable, Outcome, Related, records, rule

from .lasting import UNTIL_REPEATED, care, out_of_question


@rule(
    "freshness/copied-readings",
    each="record",
    severity=CAUTION,
    job=Job.LAST_LOOK,
    precaution=UNTIL_REPEATED,
    source="common practice, no source (readings taken anew differ in their last digits)",
)
def copied_readings(subject: tuple[str, records.Dated], on: Context) -> Outcome:
    """Are the readings of a record those of an earlier one, under a new date?

    A record pasted under a new date says what was, not what is: whatever work was done in between, nobody looked.
    Its readings vouch for nothing: rules that need a record of the kind are left open.

    Reasoning: a reading taken anew differs in its last digits: volts by 0.3 % (cells at rest 0.1 %), amperes,
    charge, thrust and speed by 1 %, charge of a whole flight by 10 %, field by 0.1 µT, heading by 0.5°, pressure by
    2 hPa. One that scatters over N last digits agrees by chance once in 1 + N times; the
    others of its row at most once in two. Found where half of the rows or more are alike and the chance is below 1
    in 1000. Times, throttles and headings pointed along are set, and may well be the same. Records whose dates do
    not tell which was first may share their readings.

    Fails:

        records:
          interference_run:
            - date: 2026-05-16
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.2, 18.13, 1.42, 45.07], [9.8, 18.91, 1.66, 44.85], [20.3, 19.77, 1.89, 44.52]]
            - date: 2026-05-20
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.2, 18.13, 1.42, 45.07], [9.8, 18.91, 1.66, 44.85], [20.3, 19.77, 1.89, 44.52]]

    Passes: the same with

        records:
          interference_run:
            - date: 2026-05-16
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.2, 18.13, 1.42, 45.07], [9.8, 18.91, 1.66, 44.85], [20.3, 19.77, 1.89, 44.52]]
            - date: 2026-05-20
              columns: [current_a, field_x_ut, field_y_ut, field_z_ut]
              rows: [[0.2, 18.11, 1.45, 45.02], [9.9, 18.96, 1.61, 44.88], [20.1, 19.72, 1.93, 44.57]]

    It does not check for a copy of few digits, nor for one whose last digits were changed.
    """
    kind, record = subject
    if out := out_of_question(kind, record, on):
        return NotApplicable(out)
    first = on.once(on.so_far, on.aircraft.records.of_kind(kind))[0]
    if not record.date.value.after(first.date.value):
        return NotApplicable(f"there is no earlier {records.named(kind)}")
    source, named = on.copied(kind, record), records.named(kind)
    if source is None:
        return Clear("its readings are not those of an earlier one")
    return Finding(
        again=True,
        place=record.date.place,
        message=f"the {named} of {record.date.value} has the readings of that of {source.date.value}",
        evidence="alike to the last digit, which readings taken anew are less than once in 1000 times",
        do=f"take the {named} of {record.date.value} out, and take it anew: {records.KINDS[kind].take}",
        related=(Related(source.date.place, f"the {named} that has them first"),),
        mind=care(kind, record),
        record=kind,
    )
