"""The program forked onto a terminal of its own, as ``program.run`` forks it onto files."""

import fcntl
import json
import os
import struct
import termios
from collections.abc import Sequence
from pathlib import Path

from pexpect.fdpexpect import fdspawn  # type: ignore[import-untyped]

from making.program import warm


class Sitting(fdspawn):  # type: ignore[misc]
    """What somebody sits at, used as one of ``pexpect.spawn``; one at a time, so that the next ends the last."""

    _last: "Sitting | None" = None

    def __init__(
        self, arguments: Sequence[object], folder: Path, lines: int, columns: int, *, echo: bool = True, **files: str
    ) -> None:
        """``files``: ``stderr``, where it is not on the terminal."""
        if Sitting._last is not None:
            Sitting._last.close()
        ours, theirs = os.openpty()
        fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        if not echo:
            modes = termios.tcgetattr(theirs)
            modes[3] &= ~termios.ECHO
            termios.tcsetattr(theirs, termios.TCSANOW, modes)
        self._server = warm("sittings")
        asked = {"arguments": [*map(str, arguments)], "folder": str(folder), "terminal": os.ttyname(theirs), **files}
        assert self._server.stdin
        assert self._server.stdout
        self._server.stdin.write(json.dumps(asked) + "\n")
        self.pid = int(self._server.stdout.readline())
        os.close(theirs)
        self.exitstatus: int | None = None
        super().__init__(ours, encoding="utf-8", timeout=60)
        Sitting._last = self

    def wait(self) -> int:
        """The exit code, or minus the signal that ended it."""
        if self.exitstatus is None:
            assert self._server.stdout
            self.exitstatus = os.waitstatus_to_exitcode(int(self._server.stdout.readline()))
        return self.exitstatus

    def close(self) -> None:
        super().close()
        self.wait()

    def kill(self, signal: int) -> None:
        os.kill(self.pid, signal)

    def sendintr(self) -> None:
        self.send("\x03")

    def sendeof(self) -> None:
        self.send("\x04")
