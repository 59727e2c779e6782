"""A program that has all of preflint loaded and runs it again and again, each time in a fork that first stands still.

So whoever traces a run sees none of the hundreds of calls by which an interpreter starts. It is a program of its own,
started as ``python warm.py``; on standard input come lines of JSON, each a run: ``arguments``, ``folder`` (its current
one), ``stdout`` and ``stderr`` (files). It answers with the number of the process, which waits for SIGCONT, and after
its end with what ``os.waitpid`` tells of it. A run with ``here`` is done without a fork: what it loads stays loaded.
"""

import ctypes
import json
import os
import signal
import sys
from typing import Any

from preflint.cli.main import main, run

ANYBODY, SET_PTRACER = ctypes.c_ulong(-1), 0x59616D61  # of prctl(2): who may trace, where the system is strict


def serve() -> bool:
    """True in a fork, which is then to run the program; False where nothing more is asked for."""
    for line in sys.stdin:
        asked = json.loads(line)
        if asked.get("here"):
            into(asked)
            main([*asked["arguments"]], standalone_mode=False)
            os.write(ANSWERS, b"loaded\n")
            continue
        if not (child := os.fork()):
            into(asked)
            sys.argv[1:] = asked["arguments"]
            signal.signal(signal.SIGINT, signal.default_int_handler)  # whoever runs the tests may have it ignored
            ctypes.CDLL(None).prctl(SET_PTRACER, ANYBODY)
            os.kill(os.getpid(), signal.SIGSTOP)
            return True
        os.waitpid(child, os.WUNTRACED)
        os.write(ANSWERS, f"{child}\n".encode())
        os.write(ANSWERS, f"{os.waitpid(child, 0)[1]}\n".encode())
    return False


def into(asked: dict[str, Any]) -> None:
    os.chdir(asked["folder"])
    for stream, name in ((1, "stdout"), (2, "stderr")):
        file = os.open(asked[name], os.O_WRONLY | os.O_CREAT | os.O_TRUNC)
        os.dup2(file, stream)
        os.close(file)


if __name__ == "__main__":
    ANSWERS = os.dup(1)
    if serve():
        run()
