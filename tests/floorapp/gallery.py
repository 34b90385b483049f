"""Every widget on a few pages, for looking at them: python -m tests.floorapp.gallery FOLDER"""

import sys
from collections.abc import Callable
from dataclasses import replace
from math import cos, pi, sin
from pathlib import Path
from typing import Any

from floorapp.views import GarmentName, Group, Header, Line, NoticeView, RailItem, Setting, Tone
from floorapp.widget_views import CurveView, Level, MapPiece, MapView, Role, Rung, RungState, Share
from models.geometry import Box, Outline, Polygon
from models.heat.estimates.curves import CurvePoint
from models.job.job import Peel, Piece, Side, Zone, ZoneKind
from tests.floorapp.driver import LANDSCAPE, PORTRAIT, Driver


def disc(piece_id: str, x: float, y: float, radius: float, material: str = "raised-foam") -> Piece:
    ring = tuple((x + radius * cos(k * pi / 18), y + radius * sin(k * pi / 18)) for k in range(36))
    return Piece(piece_id, piece_id, "back", material, Outline((Polygon(ring),)))


def vest_map(*, marked: bool = False) -> MapView:
    shoulders = ((120, 0), (190, 26), (290, 34), (390, 26), (460, 0), (560, 60), (540, 180), (570, 260))
    outline = Polygon((*shoulders, (570, 740), (10, 740), (10, 260), (40, 180), (20, 60)))
    zones = (
        Zone(ZoneKind.RAISED, Box(14, 196, 552, 14), "yoke seam"),
        Zone(ZoneKind.KEEP_OUT, Box(280, 600, 22, 140), "zip"),
    )
    pennant = Polygon(((180, 330), (400, 330), (400, 400), (290, 480), (180, 400)))
    first, now = (Role.DOWN, Role.NOW) if not marked else (Role.DOWN, Role.DOWN)
    pieces = (
        MapPiece(disc("buoy-1", 140, 130, 34), first),
        MapPiece(disc("buoy-2", 290, 110, 34), first),
        MapPiece(disc("buoy-3", 440, 130, 34), first),
        MapPiece(disc("ring-1", 100, 300, 38), now),
        MapPiece(disc("ring-2", 480, 300, 38), Role.MARKED if marked else now),
        MapPiece(disc("eye-1", 100, 300, 16, "glitter-film"), Role.LATER),
        MapPiece(disc("eye-2", 480, 300, 16, "glitter-film"), Role.LATER),
        MapPiece(Piece("pennant", "pennant", "back", "printed-twill", Outline((pennant,))), now),
        MapPiece(disc("ring-3", 100, 440, 30), now),
        MapPiece(disc("ring-4", 480, 440, 30), now),
        MapPiece(disc("lamp-1", 120, 620, 36), Role.LATER),
        MapPiece(disc("lamp-2", 470, 620, 46), Role.LATER),
    )
    side = Side("back", 580, 750, zones, Outline((outline,)))
    return MapView(side, pieces, Box(40, 230, 500, 350))


RUNGS = (
    Rung("1", "back", RungState.DONE),
    Rung("2", "back", RungState.CURRENT, can_tick=True),
    Rung("2+1", "back", RungState.TO_COME),
    Rung("3", "front", RungState.TO_COME),
    Rung("4", "left sleeve", RungState.TO_COME),
)
MORENO = GarmentName("No 31", "Moreno", "size M · KTQ4 V6HN · 9 of 24", "LC-0147 · Lightship crew vests")
RAIL = (
    RailItem("KTQ4W4JC", "No 4 Ines Okafor", "size M · KTQ4 W4JC", "LC-0147", 9, is_pressing=True),
    RailItem("KTQ4T9WA", "No 12 Łukasz Žižka", "size S · KTQ4 T9WA", "LC-0147", 0, is_pressing=False),
    RailItem("KTQ4M9XF", "Tor Lindqvist", "size L · KTQ4 M9XF", "LC-0147", 41, is_pressing=False),
    RailItem("KTQ4P3RT", "No 6 שרה לוי", "size XL · KTQ4 P3RT", "HC-0152", 72, is_pressing=False),
)
SHARES = (
    Share("done", 8, Tone.DONE),
    Share("resting", 3, Tone.REST),
    Share("in hand", 1, Tone.PRESS),
    Share("held", 1, Tone.HELD),
    Share("spoiled", 1, Tone.SPOILED),
    Share("to do", 10, Tone.PLAIN),
)
SETTINGS = (
    Setting("149 °C", "300 °F · change it from 160 °C (320 °F)", Tone.ATTENTION),
    Setting("15 s", "medium pressure"),
    Setting("Pad in", "yoke seam under the platen", Tone.ATTENTION),
    Setting("No cover sheet", "bare platen"),
)
LAY = Group(
    "Lay 5 pieces, the filled ones",
    (Line("4 × raised foam ring", Peel.COLD), Line("1 × printed twill", Peel.NONE)),
)
PEEL = (
    Group("Now, while it is hot", (Line("2 × glitter disc: low and even", Peel.HOT),), Tone.PRESS),
    Group("When it is warm", (Line("1 × pearl film crest", Peel.WARM),), Tone.PRESS),
    Group("After the rest, cold", (Line("4 × raised foam ring", Peel.COLD),), Tone.REST),
)


def garment_page(card: Any, *, marked: bool = False, portrait: bool = False) -> Any:
    """The parts of a garment's screen around a card."""
    from kivy.uix.boxlayout import BoxLayout

    from floorapp.widgets.cards import TopBar
    from floorapp.widgets.hit_ladder import HitLadder
    from floorapp.widgets.placement_map import PlacementMap
    from floorapp.widgets.rest_rail import RestRail

    page = BoxLayout(orientation="vertical")
    page.add_widget(TopBar(header=Header("", "Station 2 · Ines · 14:07", MORENO)))
    middle = BoxLayout(orientation="vertical" if portrait else "horizontal")
    middle.add_widget(HitLadder(rungs=RUNGS, is_upright=not portrait))
    middle.add_widget(PlacementMap(view=vest_map(marked=marked), can_mark=marked))
    middle.add_widget(card)
    page.add_widget(middle)
    page.add_widget(RestRail(items=RAIL))
    return page


def column(*widgets: Any, portrait: bool = False) -> Any:
    from kivy.metrics import mm
    from kivy.uix.boxlayout import BoxLayout

    box = BoxLayout(orientation="vertical", padding=mm(3.4), spacing=mm(2))
    if portrait:
        box.size_hint_y, box.height = None, mm(104)
    else:
        box.size_hint_x, box.width = None, mm(76)
    for widget in widgets:
        box.add_widget(widget)
    return box


def row(*widgets: Any) -> Any:
    from kivy.metrics import mm
    from kivy.uix.gridlayout import GridLayout

    grid = GridLayout(cols=2, spacing=mm(1.8), size_hint_y=None)
    grid.bind(minimum_height=grid.setter("height"))
    for widget in widgets:
        grid.add_widget(widget)
    return grid


def lay(*, portrait: bool) -> Any:
    from kivy.uix.widget import Widget

    from floorapp.widgets.buttons import PrimaryButton
    from floorapp.widgets.cards import CautionLine, GroupBox, SettingGrid
    from floorapp.widgets.words import Heading

    card = column(
        Heading(words="Hit 2 of 5: lay"),
        SettingGrid(settings=SETTINGS),
        GroupBox(group=LAY),
        Widget(),
        CautionLine(
            words="Hot press, pinching jaw, fumes: gloves, fresh air, the maker's sheet, local rules."
        ),
        PrimaryButton(words="Laid. Press 15 s", tone=Tone.PRESS),
        portrait=portrait,
    )
    return garment_page(card, portrait=portrait)


def peel(*, portrait: bool) -> Any:
    from kivy.uix.widget import Widget

    from floorapp.widgets.buttons import PrimaryButton
    from floorapp.widgets.cards import GroupBox
    from floorapp.widgets.words import Heading

    boxes = (GroupBox(group=group) for group in PEEL)
    card = column(
        Heading(words="Hit 3 of 5: peel"),
        *boxes,
        Widget(),
        PrimaryButton(words="Hot ones off. Rest it", tone=Tone.REST),
        portrait=portrait,
    )
    return garment_page(card, portrait=portrait)


def check(*, portrait: bool) -> Any:
    from kivy.uix.widget import Widget

    from floorapp.widgets.buttons import ChoiceButton, PlainButton, PrimaryButton
    from floorapp.widgets.words import Heading, Words

    framed = PlainButton(words="Spoil")
    framed.is_focused = True
    choices = row(
        ChoiceButton(words="Lifts", is_chosen=True, tone=Tone.HELD),
        ChoiceButton(words="Shifted"),
        ChoiceButton(words="Scorched"),
        ChoiceButton(words="Wrinkled"),
        PlainButton(words="Hold"),
        framed,
    )
    card = column(
        Heading(words="Hit 3 of 5: check"),
        Words(words="Rub each edge once. Tap on the map what is not right."),
        choices,
        Widget(),
        PrimaryButton(words="Press it again: 15 s, cover on", tone=Tone.PRESS),
        portrait=portrait,
    )
    return garment_page(card, marked=True, portrait=portrait)


def press(*, portrait: bool) -> Any:
    from kivy.metrics import mm

    from floorapp.widgets.buttons import PlainButton
    from floorapp.widgets.countdown_panel import CountdownPanel

    panel = CountdownPanel(
        heading="Hit 2 of 5: pressing",
        words="of 15 s · 149 °C (300 °F) · medium · then peel: nothing hot, 4 cold",
        left_s=9,
        fraction_left=0.6,
    )
    panel.actions.add_widget(PlainButton(words="Opened early", size_hint_x=None, width=mm(48)))
    return garment_page(panel, portrait=portrait)


def curves(*, portrait: bool) -> Any:
    from kivy.metrics import mm
    from kivy.uix.boxlayout import BoxLayout
    from kivy.uix.widget import Widget

    from floorapp.widgets.cards import GroupBox
    from floorapp.widgets.heat_curve import HeatCurve

    rising = tuple(CurvePoint(s, 20 + 5.0 * s, 20 + 7.0 * s, 20 + 8.0 * s) for s in range(16))
    falling = tuple(CurvePoint(10.0 * s, 105 - 8.0 * s, 120 - 8.5 * s, 130 - 8.0 * s) for s in range(11))
    levels = (Level(60, "warm"), Level(51, "hands"), Level(43, "cold"))
    short = Group("Too little time at heat", (Line("lantern: about 2 s short"),), Tone.ATTENTION)
    both = BoxLayout(spacing=mm(2))
    at_heat = (Level(110, "at heat"),)
    both.add_widget(HeatCurve(view=CurveView("Adhesive of lantern", Tone.PRESS, rising, at_heat)))
    both.add_widget(HeatCurve(view=CurveView("Hung", Tone.REST, falling, levels)))
    waiting = HeatCurve(view=CurveView("Garment, at rest", Tone.REST, waiting="working it out …"))
    return column_full(GroupBox(group=short), both, waiting, Widget(size_hint_y=0.2))


def floor(*, portrait: bool) -> Any:
    from kivy.metrics import mm
    from kivy.uix.boxlayout import BoxLayout
    from kivy.uix.widget import Widget

    from floorapp.widgets.batch_bar import BatchBar
    from floorapp.widgets.buttons import PlainButton, PrimaryButton
    from floorapp.widgets.cards import Panel, TopBar
    from floorapp.widgets.notice import Notice
    from floorapp.widgets.rest_rail import RestRail
    from floorapp.widgets.words import Strong

    page = BoxLayout(orientation="vertical")
    page.add_widget(TopBar(header=Header("Floor", "Station 2 · Ines · 14:07")))
    line = "This code has a wrong check character. Scan it again, or type it."
    page.add_widget(Notice(notice=NoticeView(line, Tone.HELD)))
    page.add_widget(Notice(notice=NoticeView("24 tags were written.", Tone.DONE)))
    shares = (SHARES, tuple(replace(share, count=40 * (share.tone is Tone.PLAIN)) for share in SHARES))
    batches = []
    for name, counts in zip(("Lightship crew vests", "Harbour choir aprons"), shares, strict=True):
        panel = Panel(size_hint_y=None)
        panel.bind(minimum_height=panel.setter("height"))
        panel.add_widget(Strong(words=name))
        panel.add_widget(BatchBar(shares=counts))
        batches.append(panel)
    buttons = (PrimaryButton(words="Scan a tag", tone=Tone.ATTENTION), PlainButton(words="Type the code"))
    side = column(Widget(), *buttons, portrait=portrait)
    if portrait:
        side.height = mm(50)
    main = column(*batches, Widget())
    main.size_hint_x = 1
    middle = BoxLayout(orientation="vertical" if portrait else "horizontal")
    middle.add_widget(main)
    middle.add_widget(side)
    page.add_widget(middle)
    page.add_widget(RestRail(items=RAIL))
    return page


def code_keys(*, portrait: bool) -> Any:
    from floorapp.widgets.key_pad import KeyPad

    pad = KeyPad(typed="KTQ4W")
    return column_full(pad)


def number_keys(*, portrait: bool) -> Any:
    from floorapp.widgets.key_pad import KeyPad

    return column_full(KeyPad(is_digits=True, typed="12"))


def column_full(*widgets: Any) -> Any:
    box = column(*widgets)
    box.size_hint = (1, 1)
    return box


def signs(*, portrait: bool) -> Any:
    from kivy.metrics import mm
    from kivy.uix.gridlayout import GridLayout

    from floorapp.widgets.shapes import SignName
    from floorapp.widgets.signs import SignLine, Thermometer

    grid = GridLayout(cols=2 if portrait else 3, padding=mm(6), spacing=mm(6))
    for name in SignName:
        grid.add_widget(SignLine(name=name, words=name or "none"))
    for how in Peel:
        grid.add_widget(Thermometer(peel=how))
    return grid


Page = Callable[..., Any]
PAGES: tuple[Page, ...] = (lay, peel, check, press, curves, floor, code_keys, number_keys, signs)


def save_gallery(folder: Path) -> list[Path]:
    """Saves every page at both sizes; answers the files."""
    from tests.floorapp.conftest import bare_app

    folder.mkdir(parents=True, exist_ok=True)
    driver = Driver(bare_app).start()
    saved = [
        save_page(driver, page, folder, portrait=portrait) for portrait in (False, True) for page in PAGES
    ]
    driver.stop()
    return saved


def save_page(driver: Driver, page: Page, folder: Path, *, portrait: bool) -> Path:
    driver.resize(PORTRAIT if portrait else LANDSCAPE)
    driver.app.root.clear_widgets()
    driver.app.root.add_widget(page(portrait=portrait))
    driver.frames(4)
    return driver.shot(folder / f"{page.__name__}-{'portrait' if portrait else 'landscape'}.png")


if __name__ == "__main__":
    for path in save_gallery(Path(sys.argv[1])):
        print(path)
