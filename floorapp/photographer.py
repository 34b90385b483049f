"""Takes pictures of a flow's screens in the one offscreen window."""

from pathlib import Path

from kivy.base import EventLoop, runTouchApp
from kivy.core.window import Window
from kivy.uix.floatlayout import FloatLayout

from floorapp.desk import Desk
from floorapp.flow import Flow
from floorapp.palette import GROUND
from floorapp.screenshot import save_screenshot
from floorapp.sounds import Sounds

FRAMES_TO_SETTLE = 6
"""Frames until sizes that follow from texts, and scrolls that follow from sizes, are all drawn."""


class Photographer:
    """Keeps the first picture of each moment, numbered in the order in which they came."""

    def __init__(self, flow: Flow, size: tuple[int, int], folder: Path) -> None:
        self.flow = flow
        self.folder = folder
        self.taken: list[str] = []
        folder.mkdir(parents=True, exist_ok=True)
        Window.size = size
        Window.clearcolor = GROUND
        self._place = FloatLayout()
        if EventLoop.status != "started":
            runTouchApp(embedded=True)
        Window.add_widget(self._place)
        self._desk = Desk(flow, self._place, Sounds(is_on=False))

    def take(self, moment: str) -> None:
        """Draws what the flow shows now and saves it, if this moment has no picture yet."""
        if moment in self.taken:
            return
        self.taken.append(moment)
        self.flow.signals.take()  # a flash would light the picture
        self._desk.draw()
        for _ in range(FRAMES_TO_SETTLE):
            EventLoop.idle()
        while self._desk.is_flashing:
            EventLoop.idle()
        save_screenshot(self.folder / f"{len(self.taken):02d}-{moment}.png")

    def leave(self) -> None:
        """Clears the window for the next one."""
        self._desk.close()
        Window.remove_widget(self._place)
