"""What is said where a wearer is typed, for a new garment or in place of a wrong name."""

from dataclasses import dataclass

from floorapp.flow import Flow
from floorapp.screens.garment_presenter import header_naming, header_of
from floorapp.views import Action, Button, Header, Tap, Tone


@dataclass(frozen=True, slots=True)
class WearerView:
    header: Header
    fields: tuple[Button, ...]
    sizes: tuple[Button, ...]
    primary: Button


def wearer_view(flow: Flow) -> WearerView:
    draft, batch = flow.remedies.draft, flow.remedies.batch.head
    if draft.sizes:
        header = header_of(flow, f"Add a garment · {batch.name}")
        primary = Button(f"Add it, size {draft.size}", Action(Tap.SAVE_WEARER), Tone.ATTENTION)
    else:
        header = header_naming(flow, flow.remedies.garment)
        primary = Button("Save it", Action(Tap.SAVE_WEARER), Tone.ATTENTION)
    return WearerView(
        header=header,
        fields=(
            field("Name", draft.wearer, is_chosen=not draft.is_number),
            field("Number", draft.number, is_chosen=draft.is_number),
        ),
        sizes=tuple(
            Button(size, Action(Tap.CHOOSE_SIZE, size), is_chosen=size == draft.size) for size in draft.sizes
        ),
        primary=primary,
    )


def field(name: str, text: str, *, is_chosen: bool) -> Button:
    """What is typed goes where the mark is."""
    cursor = "_" if is_chosen else ""
    return Button(f"{name}: {text}{cursor}", Action(Tap.CHOOSE_FIELD, name.lower()), is_chosen=is_chosen)
