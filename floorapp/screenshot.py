"""A picture of the window as it is, for the album of screens and for tests."""

from pathlib import Path
from typing import Any


def save_screenshot(path: Path) -> None:
    """Draws what the window shows once more, into a picture of the window's size, and saves it as PNG.

    The window's own buffer will not do: offscreen it keeps the size with which it was opened, and after the
    swap its contents are undefined.
    """
    from kivy.core.window import Window
    from PIL import Image

    picture = Image.frombytes("RGBA", tuple(Window.size), _pixels(Window))
    picture.convert("RGB").transpose(Image.Transpose.FLIP_TOP_BOTTOM).save(path)


def _pixels(window: Any) -> bytes:
    """The window's canvas drawn into a buffer of our own, and put back where it was."""
    from kivy.graphics import ClearBuffers, ClearColor, Fbo

    buffer = Fbo(size=window.size, with_stencilbuffer=True)
    window.render_context.remove(window.canvas)
    with buffer:
        ClearColor(*window.clearcolor)
        ClearBuffers()
    buffer.add(window.canvas)
    buffer.draw()
    pixels: bytes = buffer.pixels
    buffer.remove(window.canvas)
    window.render_context.add(window.canvas)
    window.canvas.ask_update()
    return pixels
