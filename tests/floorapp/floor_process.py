"""An app in a process of its own that closes the press on one garment and then waits to be killed.

python -m tests.floorapp.floor_process DATABASE_FILE CODE
"""

import sys
import time
from pathlib import Path
from random import Random

from models.clock import Clock
from models.store.store import Store
from tests.floorapp.driver import Driver
from tests.floorapp.press_operator import PressOperator, app_on


def main(database: Path, code: str) -> None:
    driver = Driver(lambda clock: app_on(reopened(database, clock), database.parent, clock)).start()
    operator = PressOperator(driver)
    operator.scan(code)
    operator.tap("Laid")
    print(operator.flow.in_hand.progress.state.value, flush=True)
    time.sleep(600)


def reopened(database: Path, clock: Clock) -> Store:
    return Store.open(f"sqlite:///{database}", clock, Random(3))


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2])
