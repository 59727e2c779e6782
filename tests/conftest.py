"""What makes all tests quick: folders in memory, and a collector of garbage that leaves the tests themselves alone."""

import gc
import os
import shutil
import tempfile
from pathlib import Path

from preflint.arrays import one_thread

MEMORY = Path("/dev/shm")
ENOUGH = 2**30

# Thousands of aircraft are written to real files; some disks take longer to delete them than they take to be judged.
if "TMPDIR" not in os.environ and os.access(MEMORY, os.W_OK) and shutil.disk_usage(MEMORY).free > ENOUGH:
    os.environ["TMPDIR"] = tempfile.tempdir = str(MEMORY)  # the one for processes, the other for this one

one_thread(os.environ)
gc.disable()


def pytest_collection_finish() -> None:
    """There are as many objects of tests as of what is tested; they stay to the end, and are looked through no more."""
    gc.freeze()
    gc.set_threshold(100_000)  # as the program itself has it
    gc.enable()
