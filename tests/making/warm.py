"""A program that has all of preflint loaded and runs it again and again, each time in a fork.

It is a program of its own, started as ``python warm.py``; on standard input come lines of JSON, each a run:
``arguments``, ``folder`` (its current one), ``stdin``, ``stdout`` and ``stderr`` (files), or a ``terminal`` for those
that are not named. It answers with the number of the process, and after its end with what ``os.waitpid`` tells of it.
A run that is ``traced`` first stands still until SIGCONT: whoever traces it sees none of the hundreds of calls by which
an interpreter starts. A run with ``here`` is done without a fork: what it loads stays loaded.
"""

import ctypes
import fcntl
import gc
import json
import os
import pkgutil
import signal
import sys
import termios
from importlib import import_module
from io import TextIOWrapper
from typing import Any

import preflint_rules

import preflint
from preflint.cli.main import main, run

ANYBODY, SET_PTRACER = ctypes.c_ulong(-1), 0x59616D61  # of prctl(2): who may trace, where the system is strict
RARE = ("preflint.editor", "preflint.cli.language_server", "preflint.render.sheet")  # with all that they need
LATER = ("numpy", "jsonschema_rs")


def load() -> None:
    """Every module of ours, and the libraries that they load only where they need them; nothing of it is run."""
    for package in (preflint, preflint_rules):
        for found in pkgutil.walk_packages(package.__path__, f"{package.__name__}."):
            if not found.name.startswith(RARE):
                import_module(found.name)
    for name in LATER:
        import_module(name)


def serve() -> bool:
    """True in a fork, which is then to run the program; False where nothing more is asked for."""
    for line in ASKED:
        asked = json.loads(line)
        if asked.get("here"):
            into(asked)
            main([*asked["arguments"]], standalone_mode=False)
            os.write(ANSWERS, b"loaded\n")
            continue
        terminal = os.open(asked["terminal"], os.O_RDWR | os.O_NOCTTY) if "terminal" in asked else None
        if not (child := os.fork()):
            into(asked, terminal)
            sys.argv[1:] = asked["arguments"]
            signal.signal(signal.SIGINT, signal.default_int_handler)  # whoever runs the tests may have it ignored
            signal.alarm(120)  # which ends one that hangs
            if asked.get("traced"):
                ctypes.CDLL(None).prctl(SET_PTRACER, ANYBODY)
                os.kill(os.getpid(), signal.SIGSTOP)
            return True
        if terminal is not None:
            os.close(terminal)
        if asked.get("traced"):
            os.waitpid(child, os.WUNTRACED)
        os.write(ANSWERS, f"{child}\n".encode())
        os.write(ANSWERS, f"{os.waitpid(child, 0)[1]}\n".encode())
    return False


def into(asked: dict[str, Any], terminal: int | None = None) -> None:
    os.chdir(asked["folder"])
    if terminal is not None:
        os.setsid()
        fcntl.ioctl(terminal, termios.TIOCSCTTY, 0)
        for stream in range(3):
            os.dup2(terminal, stream)
        os.close(terminal)
        if "stderr" in asked:
            os.dup2(os.open(asked["stderr"], os.O_WRONLY), 2)
        assert isinstance(sys.stdout, TextIOWrapper)
        sys.stdout.reconfigure(line_buffering=True)  # as an interpreter that is started there has it
        return
    for stream, name in enumerate(("stdin", "stdout", "stderr")):
        file = os.open(asked[name], os.O_WRONLY | os.O_CREAT | os.O_TRUNC if stream else os.O_RDONLY)
        os.dup2(file, stream)
        os.close(file)


if __name__ == "__main__":
    ASKED, ANSWERS = os.fdopen(os.dup(0)), os.dup(1)
    load()
    gc.freeze()  # the forks need not go through all of it at their end
    if serve():
        run()
