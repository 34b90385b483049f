from dataclasses import replace

from printables.lettering import NO_BREAK_SPACE
from printables.tag import hits_line
from tests.sample_jobs import crew_vest_plan


def plain(text: str) -> str:
    return text.replace(NO_BREAK_SPACE, " ")


def test_the_hits_stand_in_a_line_each_with_its_seconds_pad_and_cover_sheet():
    assert plain(hits_line(crew_vest_plan())) == "2 hits (s): back 149 °C 15 pad, 5 pad cover"


def test_side_and_temperature_stand_where_they_change():
    first, second = crew_vest_plan().hits
    hotter = replace(second, temperature_c=155, cover=False)
    turned = replace(hotter, side="left sleeve", pad=False)
    plan = replace(crew_vest_plan(), hits=(first, hotter, turned))
    assert plain(hits_line(plan)) == "3 hits (s): back 149 °C 15 pad · 155 °C 5 pad · left sleeve 5"


def test_a_single_hit_is_one_hit():
    plan = replace(crew_vest_plan(), hits=crew_vest_plan().hits[:1])
    assert plain(hits_line(plan)) == "1 hit (s): back 149 °C 15 pad"


def test_a_line_of_hits_breaks_only_before_a_hit():
    parts = hits_line(crew_vest_plan()).split(" ")
    assert [plain(part) for part in parts] == ["2 hits (s):", "back 149 °C 15 pad,", "5 pad cover"]
