"""One side of the garment to scale, with the pieces of this hit, those before and those to come."""

from typing import Any

from kivy.clock import Clock
from kivy.properties import BooleanProperty, ObjectProperty
from kivy.uix.widget import Widget

from floorapp import theme
from floorapp.focus import Focusable
from floorapp.widget_views import MapView, Role
from floorapp.widgets.drag_ghost import draw_ghost
from floorapp.widgets.map_layers import MapLayers
from floorapp.widgets.map_names import LEGEND_MM, MapNames, draw_legend
from floorapp.widgets.map_scale import MapScale, piece_at, shown_box
from floorapp.widgets.piece_drag import PieceDrag
from models.geometry import Box

MARGIN_MM = 4.0
DRAG_FROM_MM = 2.0
"""A finger that moves less, in mm of the screen, has tapped."""


class PlacementMap(Widget):
    """Draws `view`; where pieces can be marked, a tap or a key dispatches `on_piece` with the piece's id.

    Where they can be dragged too, a finger that takes one elsewhere dispatches `on_dragged` with the id and
    the whole mm of the garment to the right and down.
    """

    view = ObjectProperty(None, allownone=True)
    can_mark = BooleanProperty(False)
    can_drag = BooleanProperty(False)
    is_small = BooleanProperty(False)  # no names and no legend: they would cover all

    __events__ = ("on_piece", "on_dragged")

    def __init__(self, **settings: Any) -> None:
        self._drag: PieceDrag | None = None
        self._redraw = Clock.create_trigger(self._draw, -1)
        super().__init__(**settings)
        self.bind(view=self._redraw, can_mark=self._redraw, pos=self._redraw, size=self._redraw)
        self._redraw()

    @property
    def room(self) -> Box:
        """Where the map may be drawn [px, lower left corner]."""
        margin = theme.px(theme.GAP_MM if self.is_small else MARGIN_MM)
        foot = margin if self.is_small else theme.px(LEGEND_MM)
        width, height = self.width - 2 * margin, self.height - margin - foot
        return Box(self.x + margin, self.y + foot, max(1, width), max(1, height))

    @property
    def scale(self) -> MapScale:
        return MapScale.fitting(shown_box(self.view), self.room)

    def on_piece(self, piece_id: str) -> None:
        """The default handler does nothing; owners bind to the event."""

    def on_dragged(self, piece_id: str, right_mm: int, down_mm: int) -> None:
        """The default handler does nothing; owners bind to the event."""

    def on_touch_down(self, touch: Any) -> bool:
        if not (self.view and self.can_mark and self.collide_point(*touch.pos)):
            return False
        scale = self.scale
        piece = piece_at(self.view, scale.to_mm(touch.pos), theme.px(theme.TARGET_MM) / scale.px_per_mm)
        if piece is None or self._drag is not None:
            return True
        if self.can_drag:
            self._begin_drag(touch, piece)
        else:
            self.dispatch("on_piece", piece)
        return True

    def _begin_drag(self, touch: Any, piece_id: str) -> None:
        piece = next(entry.piece for entry in self.view.pieces if entry.piece.id == piece_id)
        self._drag = PieceDrag(piece, touch.pos, touch.pos, self.scale.px_per_mm, theme.px(DRAG_FROM_MM))
        touch.grab(self)

    def on_touch_move(self, touch: Any) -> bool:
        if touch.grab_current is not self or self._drag is None:
            return False
        self._drag = self._drag.to(touch.pos)
        self._draw_drag()
        return True

    def on_touch_up(self, touch: Any) -> bool:
        if touch.grab_current is not self or self._drag is None:
            return False
        touch.ungrab(self)
        drag, self._drag = self._drag, None
        self._draw_drag()
        if not drag.is_begun:
            self.dispatch("on_piece", drag.piece.id)
        elif any(drag.shift_mm):
            self.dispatch("on_dragged", drag.piece.id, *drag.shift_mm)
        return True

    def _draw_drag(self) -> None:
        self.canvas.after.clear()
        if self._drag is not None and self._drag.is_begun:
            draw_ghost(self.canvas.after, self.scale, Box(*self.pos, *self.size), self._drag)

    def _draw(self, _dt: float) -> None:
        self.canvas.before.clear()
        if self.view is not None:
            self._draw_map(self.view)
        self._place_targets()

    def _draw_map(self, view: MapView) -> None:
        canvas, whole, foot = self.canvas.before, Box(*self.pos, *self.size), theme.px(LEGEND_MM)
        above_legend = Box(whole.x, whole.y + foot, whole.width, whole.height - foot)
        MapLayers(canvas, self.scale).draw(view)
        if self.is_small:
            return
        MapNames(canvas, self.scale, above_legend).draw(view)
        shown = {entry.role for entry in view.pieces}
        draw_legend(canvas, whole, [role for role in Role if role in shown])

    def _place_targets(self) -> None:
        """A target for the keys on each piece; those that stay keep the focus."""
        pieces = self.view.pieces if self.view and self.can_mark else ()
        if [target.piece_id for target in reversed(self.children)] != [entry.piece.id for entry in pieces]:
            self.clear_widgets()
            for entry in pieces:
                self.add_widget(PieceTarget(entry.piece.id))
        for target, entry in zip(reversed(self.children), pieces, strict=True):
            box = self.scale.box_px(entry.piece.box)
            target.pos, target.size = (box.x, box.y), (box.width, box.height)


class PieceTarget(Focusable, Widget):
    """Lets the keys reach one piece of the map; fingers are the map's own matter."""

    __events__ = ("on_tap",)

    def __init__(self, piece_id: str) -> None:
        super().__init__()
        self.piece_id = piece_id

    def on_tap(self) -> None:
        self.parent.dispatch("on_piece", self.piece_id)

    def on_touch_down(self, _touch: Any) -> bool:
        return False
