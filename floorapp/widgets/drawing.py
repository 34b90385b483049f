"""Puts fills, lines and words on a Kivy canvas; the caller keeps them until its data change."""

from collections.abc import Iterable
from functools import cache
from math import ceil
from typing import Any

from kivy.core.text import Label as CoreLabel
from kivy.core.text.markup import MarkupLabel
from kivy.graphics import Color, Mesh, Rectangle
from kivy.graphics.tesselator import TYPE_POLYGONS, WINDING_ODD, Tesselator
from kivy.graphics.texture import Texture

from floorapp.lettering import fitted
from floorapp.palette import Colour
from floorapp.theme import FACE
from floorapp.widgets.strokes import FADE_PX, Path, dashes, stroke


def draw_fill(canvas: Any, rings: Iterable[Path], colour: Colour) -> None:
    """Fills the area between the rings, holes left out."""
    tesselator = Tesselator()
    for ring in rings:
        tesselator.add_contour([number for point in ring for number in point])
    if not tesselator.tesselate(WINDING_ODD, TYPE_POLYGONS):
        return
    canvas.add(Color(*colour))
    for vertices, indices in tesselator.meshes:
        canvas.add(Mesh(vertices=vertices, indices=indices, mode="triangle_fan"))


def draw_lines(
    canvas: Any, paths: Iterable[Path], width_px: float, colour: Colour, *, closed: bool = False
) -> None:
    """Draws the paths as lines with soft edges."""
    band = stroke(paths, width_px, closed=closed)
    if not band.indices:
        return
    canvas.add(Color(*colour))
    canvas.add(
        Mesh(vertices=band.vertices, indices=band.indices, mode="triangles", texture=_edge(ceil(width_px)))
    )


def draw_dashed(
    canvas: Any, path: Path, width_px: float, colour: Colour, *, dash_px: float, gap_px: float, closed: bool
) -> None:
    draw_lines(canvas, dashes(path, dash_px, gap_px, closed=closed), width_px, colour)


def draw_words(canvas: Any, words: Any, x: float, y: float, colour: Colour) -> None:
    """Draws a texture made by `words_texture` with its lower left corner at x, y."""
    canvas.add(Color(*colour))
    canvas.add(Rectangle(texture=words, pos=(round(x), round(y)), size=words.size))


def words_texture(text: str, size_px: float, *, bold: bool = False) -> Any:
    """White text of any script on nothing, to be tinted by the colour before it."""
    shown, is_markup = fitted(text, bold=bold)
    kind = MarkupLabel if is_markup else CoreLabel
    label = kind(text=shown, font_size=size_px, font_name=FACE, bold=bold)
    label.refresh()
    return label.texture


@cache
def _edge(width_px: int) -> Any:
    """Across a line: opaque, fading to nothing over the outermost pixel of either edge."""
    count = width_px + 2 * round(FADE_PX)
    texture = Texture.create(size=(1, count), colorfmt="rgba")
    clear, white = bytes((255, 255, 255, 0)), bytes((255, 255, 255, 255))
    texture.blit_buffer(clear + white * (count - 2) + clear, colorfmt="rgba", bufferfmt="ubyte")
    texture.mag_filter = texture.min_filter = "linear"
    texture.wrap = "clamp_to_edge"
    return texture
