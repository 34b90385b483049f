"""The process that reads drawings, one after another: a drawing that asks too much ends it, and not the app.

A request is a line of JSON, `{"bytes", "width_mm"}`, and then the drawing. The answer is a line of JSON:
`{"faults": [[place, wrong, mend]]}`, or `{"area": WKB in hexadecimal}`; with `"ends"` it was the last one.
"""

import json
import signal
import sys
from typing import Any, BinaryIO

from shapely.errors import ShapelyError

from models.job.drawing_process import CPU_S, MEMORY_MB, TOO_LARGE, UNREADABLE
from models.job.fault_list import FaultList, UnreadableError
from models.job.files import WHOLE_FILE
from models.job.svg_area import area_in
from models.job.svg_safety import must_be_plain

Reply = dict[str, Any]


def main() -> None:
    """Answer requests on standard input until it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the program that asks
    _limit_memory()
    _answer_all(sys.stdin.buffer, sys.stdout.buffer)


def _answer_all(asked: BinaryIO, told: BinaryIO) -> None:
    while line := asked.readline():
        request = json.loads(line)
        content = asked.read(request["bytes"])
        _limit_time(CPU_S)
        reply = _reply(content, request["width_mm"])
        _limit_time(0)
        told.write(json.dumps(reply).encode() + b"\n")
        told.flush()
        if "ends" in reply:
            return


def _reply(content: bytes, width_mm: float) -> Reply:
    try:
        return _read(content, width_mm)
    except UnreadableError as error:
        return _refused(error.wrong, error.mend, error.place)
    except MemoryError:
        return _refused(*TOO_LARGE) | {"ends": True}
    except ShapelyError as error:  # GEOS tells in its own words what it lacks
        return _refused(*(TOO_LARGE if "alloc" in str(error) else UNREADABLE)) | {"ends": True}
    except Exception:  # whatever the libraries stumble over, it is the drawing that is refused
        return _refused(*UNREADABLE) | {"ends": True}


def _read(content: bytes, width_mm: float) -> Reply:
    faults = FaultList("")
    if must_be_plain(content, faults):
        return {"area": area_in(content, width_mm).wkb_hex}
    return {"faults": [[fault.place, fault.wrong, fault.mend] for fault in faults.refusal().faults]}


def _refused(wrong: str, mend: str, place: str = WHOLE_FILE) -> Reply:
    return {"faults": [[place, wrong, mend]]}


def _limit_time(seconds: float) -> None:
    """Lets this process compute for so long and then ends it, whatever it is in; 0 takes the limit away.

    Windows has no such timer.
    """
    if sys.platform != "win32":
        signal.setitimer(signal.ITIMER_PROF, seconds)


def _limit_memory() -> None:
    """Lets a drawing take so much beside what the process holds already; only Linux keeps to that."""
    if sys.platform == "linux":
        import resource  # noqa: PLC0415  # there is none on Windows

        with open("/proc/self/statm", encoding="ascii") as file:  # noqa: PTH123
            held = int(file.read().split()[0]) * resource.getpagesize()
        most = held + MEMORY_MB * 1024**2
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
