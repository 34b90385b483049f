"""Reads drawings in a process of their own, so that none can hang the app or bring it down.

The process is started for the first drawing and stays for the next ones. One that dies is replaced.
"""

import atexit
import json
import signal
import subprocess
import sys
from collections.abc import Sequence
from contextlib import suppress
from threading import Event, Lock, Timer
from typing import Any

from shapely import from_wkb
from shapely.geometry.base import BaseGeometry

from models.errors import DataError
from models.job.fault_list import UnreadableError
from models.job.files import WHOLE_FILE

CPU_S = 2
"""Seconds of computing that a drawing may take."""

MEMORY_MB = 512
"""What it may take of memory; only Linux keeps to that."""

COUNTS_CPU = sys.platform != "win32"

WALL_S = 60.0 if COUNTS_CPU else 10.0
"""A loaded machine may take long for its 2 s of computing; where those are not counted, this is the limit."""

TOO_LONG = (f"takes more than {CPU_S} s to work out", "simplify it: fewer curves, points and crossings")
TOO_LARGE = (f"takes more than {MEMORY_MB} MB to work out", "simplify it: fewer curves, points and crossings")
UNREADABLE = ("cannot be worked out", "simplify it, or save it again as plain SVG")
NO_READER = ("cannot be read now: its reader does not start", "close other programs and try again")

CHILD = (
    sys.executable,
    "-c",
    "import json, sys; sys.path[:] = json.loads(sys.argv[1]); import models.job.drawing_child as c; c.main()",
    json.dumps(sys.path),
)


class DrawingRefusedError(DataError):
    """A drawing has faults; all of them are listed."""

    def __init__(self, faults: Sequence[UnreadableError]) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = tuple(faults)


class DrawingProcess:
    """Asks one child process for one drawing at a time, from whichever thread."""

    def __init__(self, command: Sequence[str] = CHILD, wall_s: float = WALL_S) -> None:
        self._command = command
        self._wall_s = wall_s
        self._lock = Lock()
        self._child: subprocess.Popen[bytes] | None = None
        atexit.register(self._kill)

    def area(self, content: bytes, width_mm: float) -> BaseGeometry:
        """Return the area within the drawing's paths, in its own units, fine enough for this width.

        Raises:
            DrawingRefusedError: it is no plain outline, or takes more time or memory than a drawing may.
        """
        with self._lock:
            reply = self._reply(content, width_mm)
        if "area" in reply:
            return from_wkb(bytes.fromhex(reply["area"]))
        raise DrawingRefusedError(
            [UnreadableError(wrong, mend, place) for place, wrong, mend in reply["faults"]]
        )

    def close(self) -> None:
        """End the child; the next drawing starts another."""
        with self._lock:
            self._end()

    def _reply(self, content: bytes, width_mm: float) -> Any:
        child, rang = self._running(), Event()

        def ring() -> None:
            rang.set()
            child.kill()

        clock = Timer(self._wall_s, ring)
        clock.start()
        try:
            line = _told(child, content, width_mm)
        finally:
            clock.cancel()
        if not line.endswith(b"\n"):
            self._end()
            is_time = rang.is_set() or (COUNTS_CPU and child.returncode == -signal.SIGPROF)
            raise _refusal(TOO_LONG if is_time else UNREADABLE)
        reply = json.loads(line)
        if reply.get("ends"):
            self._end()
        return reply

    def _running(self) -> "subprocess.Popen[bytes]":
        if self._child is not None and self._child.poll() is not None:
            self._end()
        if self._child is None:
            self._child = self._started()
        return self._child

    def _started(self) -> "subprocess.Popen[bytes]":
        pipe, nothing = subprocess.PIPE, subprocess.DEVNULL
        no_console = getattr(subprocess, "CREATE_NO_WINDOW", 0)  # on Windows alone
        try:
            return subprocess.Popen(
                self._command, stdin=pipe, stdout=pipe, stderr=nothing, creationflags=no_console
            )
        except OSError:
            raise _refusal(NO_READER) from None

    def _end(self) -> None:
        child, self._child = self._child, None
        if child is None:
            return
        for pipe in (child.stdin, child.stdout):
            if pipe is not None:
                with suppress(OSError):  # what could not be sent is of no use any more
                    pipe.close()
        try:
            child.wait(timeout=1)
        except subprocess.TimeoutExpired:
            child.kill()
            child.wait()

    def _kill(self) -> None:
        """Ends the child at once, also where a thread still waits for it."""
        if self._child is not None:
            self._child.kill()
            self._child.wait()


def _told(child: "subprocess.Popen[bytes]", content: bytes, width_mm: float) -> bytes:
    """The answer's line; cut short or empty where the child has died."""
    if child.stdin is None or child.stdout is None:
        return b""
    request = json.dumps({"bytes": len(content), "width_mm": width_mm}).encode() + b"\n"
    try:
        child.stdin.write(request + content)
        child.stdin.flush()
        return child.stdout.readline()
    except OSError:
        return b""


def _refusal(told: tuple[str, str]) -> DrawingRefusedError:
    wrong, mend = told
    return DrawingRefusedError([UnreadableError(wrong, mend, WHOLE_FILE)])


DRAWINGS = DrawingProcess()
"""The one that the app uses; its child is warm from the first drawing on."""
