"""For all tests: what the program remembers about this person stays away from whoever runs them, and no
example that is drawn at random has to be done within a time, which a busy machine would not keep.
"""

import os
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")

STATE_HOME = "XDG_STATE_HOME"


@pytest.fixture(scope="session", autouse=True)
def state_of_nobody(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """Processes that tests start go by it as well."""
    before = os.environ.get(STATE_HOME)
    folder = tmp_path_factory.mktemp("state")
    os.environ[STATE_HOME] = str(folder)
    yield folder
    if before is None:
        del os.environ[STATE_HOME]
    else:
        os.environ[STATE_HOME] = before
