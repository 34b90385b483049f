"""The examples in docstrings are run, so that they stay true."""

import doctest
import importlib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent


def modules_with_examples() -> list[str]:
    """Modules of the layers without a window whose text holds an example."""
    paths = [path for package in ("models", "printables") for path in (ROOT / package).rglob("*.py")]
    written = [path.relative_to(ROOT).with_suffix("") for path in paths if ">>> " in path.read_text()]
    return sorted(".".join(path.parts) for path in written)


@pytest.mark.parametrize("name", modules_with_examples())
def test_the_examples_of_the_module_give_what_they_say(name):
    results = doctest.testmod(importlib.import_module(name))
    assert results.attempted > 0
    assert results.failed == 0
