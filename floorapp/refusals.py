"""How a refusal is told: in its own line, with the way on where there is one."""

from floorapp.views import Action, Button, NoticeView, Tap, Tone
from models.errors import FloorError, PressInUseError


def notice_of(error: FloorError) -> NoticeView:
    """Tell the error in its line; a press that is in use leads to the garment under it."""
    if isinstance(error, PressInUseError):
        return NoticeView(str(error), Tone.ATTENTION, Button("Open it", Action(Tap.OPEN_CODE, error.code)))
    return NoticeView(str(error), Tone.ATTENTION)
