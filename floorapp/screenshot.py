"""A picture of the window as it is, for the album of screens and for tests."""

from pathlib import Path


def save_screenshot(path: Path) -> None:
    """Draws the window once more and saves it as PNG, under exactly this name.

    It is read before the buffers are swapped: what the back buffer holds afterwards is undefined.
    """
    from kivy.core.window import Window
    from kivy.graphics.opengl import GL_PACK_ALIGNMENT, GL_RGB, GL_UNSIGNED_BYTE, glPixelStorei, glReadPixels
    from PIL import Image

    width, height = (int(side) for side in Window.system_size)
    Window.canvas.ask_update()
    Window.dispatch("on_draw")
    glPixelStorei(GL_PACK_ALIGNMENT, 1)
    rows = glReadPixels(0, 0, width, height, GL_RGB, GL_UNSIGNED_BYTE)
    picture = Image.frombytes("RGB", (width, height), bytes(rows))
    picture.transpose(Image.Transpose.FLIP_TOP_BOTTOM).save(path)
