"""A station that taps without end and says each confirmed tap aloud; the test kills it in mid-work.

Run as: python -m tests.models.store.endless_writer URL CODE...
"""

import sys
from random import Random

from models.clock import SystemClock
from models.garment.events import FindingKind, Found, TakenUp
from models.store.store import Store


def main(url: str, codes: list[str]) -> None:
    random = Random()
    store = Store.open(url, SystemClock(), random)
    garments = {code: store.garment(code) for code in codes}
    found = Found(FindingKind.LIFT, ("anchor",))
    while True:
        code = random.choice(codes)
        garments[code] = store.record(garments[code], [TakenUp(), found], "press 1", "Ines")
        print(code, garments[code].progress.seq, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
