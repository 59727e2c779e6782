"""Prints what preflint costs beside other programs, as ratios of one run; nothing here is a test.

Run it from the top folder: python tests/bench/beside.py
It installs this tree, with the extra `fast`, and two programs that check less (check-jsonschema: the schema alone;
yamllint: the form of YAML alone) into an environment in a temporary folder; they are timed and nothing else. Seconds
are of the processor, which other work on the machine moves less than the clock; of two workers they are of the clock.
"""

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parents[2]
CLUB = ROOT / "examples" / "club"
SCHEMA = ROOT / "schemas" / "airframe.schema.json"
DAY = ("--as-of", "2026-05-21")
CLUB_SIZE = len(list(CLUB.glob("*.airframe.yaml")))
RECORDED = "heron.airframe.yaml"  # all that flight needs is recorded of it, and it flies
KNOT = "knot.airframe.yaml"  # ten lines, and little is recorded
TURNS = 5

Command = Sequence[str | Path]
Cost = tuple[float, float, float]  # seconds of the processor, seconds of the clock, kB of memory at most


def run(command: Command) -> Cost:
    """What one process costs, whatever its exit code."""
    before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    with open(os.devnull, "wb") as null:
        process = subprocess.Popen(command, stdout=null, stderr=null)
        _, _, used = os.wait4(process.pid, 0)
        process.returncode = 0
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    seconds = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    return seconds, time.perf_counter() - start, float(used.ru_maxrss)


def at_once(command: Command, many: int) -> float:
    """The seconds of the clock that so many processes of the same take together."""
    start = time.perf_counter()
    with open(os.devnull, "wb") as null:
        processes = [subprocess.Popen(command, stdout=null, stderr=null) for _ in range(many)]
        for process in processes:
            process.wait()
    return time.perf_counter() - start


def in_turns(*commands: Command, turns: int = TURNS) -> list[Cost]:
    """The medians of each, run one after the other and over again, after one turn that does not count."""
    taken = [[run(command) for command in commands] for _ in range(turns + 1)][1:]
    return [tuple(map(statistics.median, zip(*costs, strict=True))) for costs in zip(*taken, strict=True)]  # type: ignore[misc]


def environment(folder: Path) -> Path:
    """The programs of a new environment with preflint as it is installed, and the two others."""
    subprocess.run([sys.executable, "-m", "venv", folder], check=True)
    quiet = [folder / "bin" / "pip", "install", "--quiet", "--disable-pip-version-check"]
    subprocess.run([*quiet, f"{ROOT}[fast]", "check-jsonschema", "yamllint"], check=True)
    return folder / "bin"


def club(folder: Path, manifest: str, count: int) -> Path:
    """A club's folder with so many aircraft, each a copy of the one under a name of its own."""
    shutil.copytree(CLUB, folder, ignore=shutil.ignore_patterns("*.airframe.yaml"))
    text = (CLUB / manifest).read_text()
    for i in range(count):
        (folder / f"copy-{i:04d}.airframe.yaml").write_text(text.replace("name: ", f"name: N{i:04d} ", 1))
    return folder


def mixed(folder: Path, count: int) -> Path:
    """A club's folder with the club's own aircraft over and over, under names of their own."""
    shutil.copytree(CLUB, folder, ignore=shutil.ignore_patterns("*.airframe.yaml"))
    every = sorted(CLUB.glob("*.airframe.yaml"))
    for i in range(count):
        text = every[i % len(every)].read_text()
        (folder / f"copy-{i:04d}.airframe.yaml").write_text(text.replace("name: ", f"name: N{i:04d} ", 1))
    return folder


def logbook(folder: Path, entries: int, records: int) -> Path:
    """The knot with so many flights in its logbook and so many checks of its barometer."""
    folder.mkdir()
    flown = [f"  - {{date: 2026-{1 + i % 4:02d}-{1 + i // 4 % 28:02d} {i // 112 % 24:02d}:{i // 2688 % 60:02d}, "
             "kind: flown}" for i in range(entries)]  # fmt: skip
    checks = [f"    - {{date: 2026-{1 + i % 4:02d}-{1 + i // 4 % 28:02d} {i // 112 % 24:02d}:00, "
              "indicated_hpa: 991.6, station_pressure_hpa: 991.3}" for i in range(records)]  # fmt: skip
    text = (CLUB / KNOT).read_text()
    written = [text.rstrip(), "logbook:", *flown, "records:", "  barometer_check:", *checks]
    file = folder / "long.airframe.yaml"
    file.write_text("\n".join(written) + "\n")
    return file


def log(folder: Path, rows: int) -> Path:
    """A log of so many rows of five columns, as a logger writes them."""
    drawn = np.random.default_rng(1)
    file = folder / "log.csv"
    with file.open("w") as written:
        written.write("time_s,field_x_ut,field_y_ut,field_z_ut,current_a\n")
        for start in range(0, rows, 100_000):
            some = np.column_stack([0.02 * (start + np.arange(100_000)), drawn.normal(20, 5, (100_000, 4))])
            np.savetxt(written, some[: rows - start], "%.2f", ",")
    return file


def say(what: str, ratio: float, aim: str) -> None:
    print(f"{what:<66} {ratio:>9.2f}   {aim}", flush=True)


def main() -> None:
    """Prints the table: what, how many times as much, and the aim."""
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        programs = environment(folder / "env")
        ours, schema, form = programs / "preflint", programs / "check-jsonschema", programs / "yamllint"
        by_schema = (schema, "--schemafile", SCHEMA)

        python, helped, told = in_turns((programs / "python", "-c", "pass"), (ours, "--help"), (ours, "--version"))
        say("--help beside an empty program of Python", helped[0] / python[0], "at most 4.5")
        say("--version beside an empty program of Python", told[0] / python[0], "at most 4.5")

        ten = folder / "ten.airframe.yaml"
        ten.write_text("preflint: 1\naircraft:\n  name: Ten\n  layout: quad-x\npacks:\n  - label: A\n    cells: 4\n")
        for what, file, aim in (
            ("seven lines", ten, "at most 0.4"), ("ten lines", CLUB / KNOT, ""),
            ("a fully recorded one", CLUB / RECORDED, "at most 0.7"),
        ):  # fmt: skip
            one, other = in_turns((ours, "inspect", file, *DAY), (*by_schema, file))
            say(f"{what}, beside the schema alone", one[0] / other[0], aim)

        # What a further one costs is the difference of two processes, of so few and so many manifests.
        for what, manifest, sizes, aims in (
            ("a further one of ten lines", KNOT, (20, 220), ("", "")),
            ("a further one, fully recorded", RECORDED, (10, 60), ("at most 0.8", "at most 0.4")),
        ):
            few, many = (club(folder / f"{what} {size}", manifest, size) for size in sizes)
            costs = in_turns(
                (ours, "inspect", few, *DAY), (ours, "inspect", many, *DAY),
                (*by_schema, *few.glob("*.airframe.yaml")), (*by_schema, *many.glob("*.airframe.yaml")),
                (form, *few.glob("*.airframe.yaml")), (form, *many.glob("*.airframe.yaml")), turns=3,
            )  # fmt: skip
            one, other, third = (costs[i + 1][0] - costs[i][0] for i in (0, 2, 4))
            say(f"{what}, beside the schema alone", one / other, aims[0])
            say(f"{what}, beside the form of YAML alone", one / third, aims[1])

        # Whole clubs, since what the heaviest of them needs for itself counts in both; once each, they take minutes.
        few, many = mixed(folder / "mixed few", 10 * CLUB_SIZE), mixed(folder / "mixed many", 50 * CLUB_SIZE)
        every = [part for form in ("json", "sarif", "junit", "markdown", "csv")
                 for part in ("--report", f"{form}={folder / form}")]  # fmt: skip
        for what, further, most in (("text", (), 30), ("every report", every, 60)):
            small, large = (run((ours, "inspect", of, *DAY, *further)) for of in (few, many))
            further_kb = (large[2] - small[2]) / (40 * CLUB_SIZE)
            say(f"kB of memory of a further aircraft, {what}", further_kb, f"at most {most}")
        alone, two = (run((ours, "inspect", many, *DAY, "--jobs", jobs)) for jobs in ("1", "2"))
        say("one process beside two, by the clock", alone[1] / two[1], "at least 1.8")
        judging = (ours, "inspect", few, *DAY)
        ceiling = 2 * at_once(judging, 1) / at_once(judging, 2)
        say("two processes that share nothing beside one: what this machine gives", ceiling, "")

        file = log(folder, 10_000_000)
        read = ("from pathlib import Path; from preflint.load.tables.table import read_table; "
                "from preflint.load.tree import Tree; import sys; "
                "tree = Tree.around(Path(sys.argv[1])); read_table(tree, tree.name(Path(sys.argv[1])))")  # fmt: skip
        load = "import numpy, sys; numpy.loadtxt(sys.argv[1], delimiter=',', skiprows=1)"
        one, other = in_turns(*((programs / "python", "-c", code, file) for code in (read, load)), turns=1)
        say("a log of 10 000 000 rows, beside numpy.loadtxt", one[0] / other[0], "at most 1.0")
        say("MB of memory for it", one[2] / 1000, "at most 80")
        file.unlink()

        short, long = logbook(folder / "short", 10, 10), logbook(folder / "long", 2000, 800)
        small, large = in_turns(*((ours, "inspect", file, *DAY) for file in (short, long)), turns=3)
        say("seconds for 2000 entries and 800 records more than for 10", large[0] - small[0], "at most 0.5")


if __name__ == "__main__":
    main()
