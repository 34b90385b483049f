"""An album of the app: a picture of every screen, both ways up, made by the app itself on the demo batch."""

import tempfile
from collections.abc import Callable
from pathlib import Path

from floorapp.demo_floor import Demo, open_demo
from floorapp.in_words import review_in_words
from floorapp.kivy_setup import configure_kivy, open_window
from floorapp.walk import Walk

SIZES = {"landscape": (1280, 800), "portrait": (800, 1280)}


def write_album(folder: Path, told: Callable[[str], None] = print) -> None:
    """Walks the demo batch offscreen, once each way up, and saves each screen when it first appears.

    Raises NoWindowError where the GL libraries are missing.
    """
    configure_kivy(offscreen=True)
    open_window()
    with tempfile.TemporaryDirectory() as place:
        for name, size in SIZES.items():
            told(f"Walking the demo batch, {name}, {size[0]}×{size[1]}:")
            demo = open_demo(Path(place) / f"{name}.db")
            pictures = _photographed(demo, size, folder / name, told)
            told(f"{pictures} pictures in {folder / name}")
            if name == "portrait":
                told(_outcome(demo))
            demo.flow.work.store.close()


def _photographed(demo: Demo, size: tuple[int, int], folder: Path, told: Callable[[str], None]) -> int:
    from floorapp.photographer import Photographer

    photographer = Photographer(demo.flow, size, folder)
    Walk(demo.flow, demo.clock, photographer.take, told).everything(demo.reference)
    photographer.leave()
    return len(photographer.taken)


def _outcome(demo: Demo) -> str:
    work = demo.flow.work
    head = work.store.batch(demo.reference)
    return review_in_words(f"{head.name} ({head.reference})", work.review(head))
