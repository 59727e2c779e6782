"""Fuzzing that is led by what each input reaches: ``python tests/fuzz/guided.py [SECONDS] [TARGET ...]``.

The seconds (60, if none are named) are shared by the targets (all of ``targets.py``), which begin once what they reach
is loaded. The corpus is made of the examples and the fragments of the manual pages, in a temporary folder; inputs that
show something stay there, with what they showed, and the exit code is then 1. Make a plain test of each.
"""

import contextlib
import io
import os
import random
import re
import sys
import tempfile
import traceback
from collections.abc import Callable
from pathlib import Path
from typing import NoReturn

HERE = Path(__file__).parent
TESTS = HERE.parent
EXAMPLES = TESTS.parent / "examples" / "club"
TOKEN = re.compile(rb"[\w.+-]+|\s+|[^\w\s]")
STRANGE = [
    *(b"0", b"-1", b"-0.0", b"1e-9", b"99999999", b"0.000001", b"1e308", b"6.02e23", b"2026-02-30"),
    *(b"2026-05-21 23:59", b"none", b"all", b"others", b"as-commanded", b"[]", b"{}", b'""', b"~", b"\n", b"  "),
    *(b": ", b"- ", b"&a ", b"*a"),
    *(b'"', b"'", b"#", b"|", b">-", b"?", b"\t", b"\x00", "\u202e".encode(), "\ufeff".encode(), b"\xff", b"1,5", b";"),
]


def main() -> int:
    told = sys.argv[1:]
    seconds = int(told.pop(0)) if told and told[0].isdecimal() else 60
    os.environ["OPENBLAS_NUM_THREADS"] = "1"
    sys.path[:0] = [str(TESTS)]
    import atheris

    # Renderers go through each character of a long text: they would take twenty times as long.
    ours = atheris.instrument_imports(include=["preflint", "preflint_rules"], exclude=["preflint.render"])
    with contextlib.redirect_stderr(io.StringIO()), ours:  # it tells the name of each module
        from targets import TARGETS

    names = told or [*TARGETS]
    if unknown := set(names) - set(TARGETS):
        print(f"no target {', '.join(sorted(unknown))}; there are {', '.join(TARGETS)}")
        return 2
    found = 0
    for name in names:
        folder = Path(tempfile.mkdtemp(prefix=f"preflint-{name}-"))
        (folder / "found").mkdir()
        sys.stdout.flush()  # what is not yet told would be told again by the child
        child = os.fork()  # the end of the fuzzer ends its process; what is loaded stays loaded
        if child == 0:
            fuzz(name, TARGETS[name], folder, max(1, seconds // len(names)))
        _, status = os.waitpid(child, 0)
        written = (folder / "told.txt").read_text(errors="replace")
        runs = re.search(r"number_of_executed_units: (\d+)", written)
        kept = sorted(file for file in (folder / "found").iterdir() if file.suffix != ".txt")
        print(f"{name}: {runs[1] if runs else 'no'} executions, {len(kept)} findings", flush=True)
        for file in kept:
            print(f"  {file}")
        if status or runs is None:
            print(written[-1500:])
        found += len(kept) or (status != 0 or runs is None)
    return 1 if found else 0


def seeds(name: str) -> list[bytes]:
    """What the corpus begins with."""
    from making.fragments import whole

    from preflint.engine.rule_module import builtin_and
    from preflint.findings.manual import failing, passing

    if name == "table":
        return [path.read_bytes() for path in sorted(EXAMPLES.glob("logs/*.csv"))]
    if name == "policy":
        readme = (TESTS.parent / "README.md").read_text(encoding="utf-8")
        written = re.findall(r"```yaml\n(preflint: 1\nclub.*?)```", readme, re.DOTALL)
        return [(EXAMPLES / "preflint.yaml").read_bytes(), *(text.encode() for text in written)]
    rules = [rule.info for rule in builtin_and(()).rules]
    pages = [whole(rule.topic, part(rule.manual)).encode() for rule in rules for part in (failing, passing)]
    aircraft = [path.read_bytes() for path in sorted(EXAMPLES.glob("*.airframe.yaml"))]
    return [*pages, *aircraft, (TESTS / "contract" / "lapwing.airframe.yaml").read_bytes()]


def words(name: str) -> list[bytes]:
    """The words of the format, from its schema; of tables those of their first lines."""
    import preflint_schemas
    from making.changed import NAMES, VALUES

    if name == "table":
        heads = {word for seed in seeds(name) for word in seed.split(b"\n")[0].split(b",")}
        return [*sorted(heads), b"\n", b",", b"\t", *STRANGE]
    policy = [key.encode() for key in re.findall(r'"(\w+)": \{', repr(preflint_schemas.policy()).replace("'", '"'))]
    values = [str(value).encode() for value in VALUES if isinstance(value, str | int | float)]
    return [*(key.encode() for key in NAMES), *(policy if name == "policy" else []), *sorted(set(values)), *STRANGE]


def mutator(known: list[bytes], others: list[bytes]) -> Callable[[bytes, int, int], bytes]:
    """Mostly in tokens and lines, since bytes changed at random seldom load; sometimes in bytes all the same."""

    def changed(data: bytes, most: int, seed: int) -> bytes:
        chance = random.Random(seed)
        for _ in range(chance.choice((1, 1, 2, 4))):
            data = chance.choice((token, token, token, number, number, line, borrowed, some))(data, chance)
        return data[:most]

    def some(data: bytes, chance: random.Random) -> bytes:
        """A few bytes, whatever they are."""
        at = chance.randrange(len(data) + 1)
        return data[:at] + chance.randbytes(chance.choice((0, 1, 2))) + data[at + chance.choice((0, 1, 4)) :]

    def token(data: bytes, chance: random.Random) -> bytes:
        parts = TOKEN.findall(data)
        start = chance.randrange(len(parts) + 1)
        parts[start : start + chance.choice((0, 1, 1, 1, 3))] = [chance.choice(known)] * chance.choice((0, 1, 1, 1, 2))
        return b"".join(parts)

    def number(data: bytes, chance: random.Random) -> bytes:
        """Another number in the place of one: a little other, of another size or sign, or from elsewhere."""
        found = [*re.finditer(rb"(?<![\w.-])-?\d+(?:\.\d+)?(?![\w.-])", data)]
        if not found:
            return data
        at = chance.choice(found)
        value = float(at[0]) * chance.choice((0, 1e-6, 0.1, 0.5, 0.99, 1.01, 2, 10, 1e6, -1))
        text = chance.choice((f"{value:.6f}".rstrip("0").rstrip("."), f"{value:.0f}", chance.choice(found)[0].decode()))
        return data[: at.start()] + text.encode() + data[at.end() :]

    def line(data: bytes, chance: random.Random) -> bytes:
        """A line, or several, gone, doubled or moved."""
        rows = data.split(b"\n")
        start = chance.randrange(len(rows))
        taken = rows[start : start + chance.choice((1, 1, 1, 2, 5))]
        if chance.random() < 0.6:
            del rows[start : start + len(taken)]
        if chance.random() < 0.6:
            at = chance.randrange(len(rows) + 1)
            rows[at:at] = taken
        return b"\n".join(rows)

    def borrowed(data: bytes, chance: random.Random) -> bytes:
        """A line of another seed after one of the same depth."""
        rows, more = data.split(b"\n"), chance.choice(others).split(b"\n")
        taken = chance.choice(more)
        depth = len(taken) - len(taken.lstrip())
        level = [n for n, row in enumerate(rows) if len(row) - len(row.lstrip()) == depth]
        at = chance.choice(level) + 1 if level else len(rows)
        return b"\n".join([*rows[:at], taken, *rows[at:]])

    return changed


def fuzz(name: str, target: Callable[[bytes], None], folder: Path, seconds: int) -> NoReturn:
    """Ends this process."""
    import atheris

    with (folder / "told.txt").open("w") as file:
        os.dup2(file.fileno(), 1)
        os.dup2(file.fileno(), 2)
    begun = seeds(name)
    corpus = folder / "corpus"
    corpus.mkdir()
    # All of it is tried before the time counts; what takes long begins with a part, and borrows lines of the others.
    for number, seed in enumerate([b"", *begun[:: 12 if name in ("aircraft", "renderers") else 1]]):
        (corpus / str(number)).write_bytes(seed)

    def one(data: bytes) -> None:
        try:
            target(data)
        except Exception as error:  # the fuzzer would end at the first
            ours = [frame for frame in traceback.extract_tb(error.__traceback__) if "preflint" in frame.filename]
            where = f"{Path(ours[-1].filename).stem}-{ours[-1].lineno}" if ours else "outside"
            file = folder / "found" / f"{type(error).__name__}-{where}"
            if not file.exists():
                file.write_bytes(data)
                file.with_suffix(".txt").write_text(traceback.format_exc())

    options = ("max_len=20000", "len_control=0", "timeout=60", "report_slow_units=60", "verbosity=0")
    told = (f"max_total_time={seconds}", f"artifact_prefix={folder}/found/", "print_final_stats=1")
    arguments = [sys.argv[0], str(corpus), *(f"-{option}" for option in (*options, *told))]
    atheris.Setup(arguments, one, custom_mutator=mutator(words(name), begun))
    atheris.Fuzz()
    os._exit(1)  # it does not come back


if __name__ == "__main__":
    sys.exit(main())
