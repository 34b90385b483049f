"""Drawings as areas: boxes and areas worked out by hand."""

import math
import time

import pytest
from shapely import get_parts

from models.job.fault_list import FaultList, UnreadableError
from models.job.svg_area import area_in
from models.job.svg_safety import must_be_plain

WIDTH_MM = 200.0
CROSSES = "the outline crosses itself"


def svg(inside: str, more: str = "") -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"<svg {names} {more}>{inside}</svg>".encode()


def area_of(inside: str, more: str = "", width_mm: float = WIDTH_MM):
    content = svg(inside, more)
    faults = FaultList("drawing.svg")
    assert must_be_plain(content, faults), str(faults.refusal())
    return area_in(content, width_mm)


def bounds(inside: str, more: str = "") -> tuple[float, ...]:
    """Left, top, right, bottom."""
    return area_of(inside, more).bounds


def near(*values: float):
    """Box edges agree to the rounding of the SVG reader, which is far below a chord's error."""
    return pytest.approx(values, abs=1e-6)


RECT = '<rect x="10" y="20" width="30" height="40"/>'


@pytest.mark.parametrize(
    ("drawn", "box"),
    [
        (RECT, (10, 20, 40, 60)),
        ('<circle cx="50" cy="60" r="20"/>', (30, 40, 70, 80)),
        ('<ellipse cx="50" cy="60" rx="30" ry="10"/>', (20, 50, 80, 70)),
        ('<polygon points="0,0 30,0 30,10"/>', (0, 0, 30, 10)),
        ('<polyline points="0 0 30 0 30 10"/>', (0, 0, 30, 10)),
        ('<path d="M10 20 h30 v40 h-30 z"/>', (10, 20, 40, 60)),
        ('<path d="M10,20 l30,0 0,40 -30,0"/>', (10, 20, 40, 60)),  # left open: filled as if closed
        ('<path d="M0 0 Q 50 100 100 0 Z"/>', (0, 0, 100, 50)),  # the curve's top: half way to its control
        ('<path d="M0 0 C 0 100 100 100 100 0 Z"/>', (0, 0, 100, 75)),  # three quarters of the way
        ('<path d="M0 50 A 50 50 0 0 1 100 50 Z"/>', (0, 0, 100, 50)),  # half a disc
        ('<path d="M0 50 A 50 50 0 0 0 100 50 Z"/>', (0, 50, 100, 100)),  # the other half
    ],
)
def test_every_kind_of_outline_is_read(drawn, box):
    assert bounds(drawn) == pytest.approx(box, abs=0.05)


@pytest.mark.parametrize(
    ("transform", "box"),
    [
        ("translate(5,7)", (15, 27, 45, 67)),
        ("translate(5)", (15, 20, 45, 60)),
        ("scale(2)", (20, 40, 80, 120)),
        ("scale(2,0.5)", (20, 10, 80, 30)),
        ("scale(-1,1)", (-40, 20, -10, 60)),
        ("rotate(90)", (-60, 10, -20, 40)),
        ("rotate(90,10,20)", (-30, 20, 10, 50)),
        ("skewX(45)", (30, 20, 100, 60)),
        ("matrix(0 1 -1 0 100 0)", (40, 10, 80, 40)),
        ("translate(100,0) rotate(90)", (40, 10, 80, 40)),  # the last one is worked first
    ],
)
def test_transforms_move_the_outline(transform, box):
    assert bounds(f'<rect x="10" y="20" width="30" height="40" transform="{transform}"/>') == near(*box)


def test_transforms_of_groups_add_up_from_the_inside_out():
    drawn = f'<g transform="translate(100,0)"><g transform="scale(2)">{RECT}</g></g>'
    assert bounds(drawn) == near(120, 40, 180, 120)


def test_a_slanted_circle_is_the_right_ellipse():
    left, top, right, bottom = bounds('<circle r="50" transform="skewX(45)"/>')
    assert (top, bottom) == pytest.approx((-50, 50), abs=0.05)
    assert right - left == pytest.approx(2 * 50 * math.sqrt(2), abs=0.05)  # x = r cos t + r sin t


@pytest.mark.parametrize("href", ["href", "xlink:href"])
def test_use_draws_an_element_again_elsewhere(href):
    drawn = (
        f'<defs><rect id="r" width="10" height="5"/></defs><use {href}="#r" x="20" y="30"/><use {href}="#r"/>'
    )
    area = area_of(drawn)
    assert area.area == pytest.approx(2 * 50)
    assert area.bounds == near(0, 0, 30, 35)


def test_use_draws_a_whole_group_transformed():
    drawn = (
        f'<defs><g id="g" transform="scale(2)">{RECT}</g></defs><use href="#g" transform="translate(100,0)"/>'
    )
    assert bounds(drawn) == near(120, 40, 180, 120)


def test_what_is_only_defined_or_not_displayed_is_not_drawn():
    hidden = (
        '<rect width="500" height="5" display="none"/><rect width="600" height="5" style="display:none"/>'
    )
    defined = (
        '<defs><rect id="r" width="700" height="5"/></defs><rect width="800" height="5" visibility="hidden"/>'
    )
    assert bounds(RECT + hidden + defined) == near(10, 20, 40, 60)


def test_the_view_box_moves_and_scales():
    # 100 x 100 user units shown 200 x 200 px wide from (10, 20) on
    assert bounds(RECT, 'width="200" height="200" viewBox="10 20 100 100"') == near(0, 0, 60, 80)


def test_the_view_box_keeps_proportion():
    # 100 x 100 units in 400 x 200: scaled by 2, centred, so 100 further right
    assert bounds(RECT, 'width="400" height="200" viewBox="0 0 100 100"') == near(120, 40, 180, 120)


def test_a_view_box_may_ask_to_be_stretched():
    more = 'width="400" height="200" viewBox="0 0 100 100" preserveAspectRatio="none"'
    assert bounds(RECT, more) == near(40, 40, 160, 120)


SAME_WAY = "M0 0 h100 v100 h-100 z M25 25 h50 v50 h-50 z"
OTHER_WAY = "M0 0 h100 v100 h-100 z M25 25 v50 h50 v-50 z"


@pytest.mark.parametrize(
    ("drawn", "area"),
    [
        (f'<path d="{SAME_WAY}"/>', 10_000),
        (f'<path d="{OTHER_WAY}"/>', 7_500),
        (f'<path fill-rule="evenodd" d="{SAME_WAY}"/>', 7_500),
        (f'<path fill-rule="evenodd" d="{OTHER_WAY}"/>', 7_500),
        (f'<path style="fill-rule: evenodd" d="{SAME_WAY}"/>', 7_500),
        (f'<g fill-rule="evenodd"><path d="{SAME_WAY}"/></g>', 7_500),
        (f'<style>path {{ fill-rule: evenodd }}</style><path d="{SAME_WAY}"/>', 7_500),
    ],
)
def test_the_fill_rule_says_whether_a_ring_is_a_hole(drawn, area):
    assert area_of(drawn).area == pytest.approx(area)


def test_an_island_in_a_hole_is_there():
    drawn = '<path fill-rule="evenodd" d="M0 0h90v90h-90z M10 10h70v70h-70z M30 30h30v30h-30z"/>'
    area = area_of(drawn)
    assert area.area == pytest.approx(8100 - 4900 + 900)
    assert len(area.geoms) == 2


def test_rings_that_overlap_are_one_area_or_by_the_even_odd_rule_lack_what_they_share():
    overlapping = 'd="M0 0h20v20h-20z M10 10h20v20h-20z"'
    assert area_of(f"<path {overlapping}/>").area == pytest.approx(700)
    assert area_of(f'<path fill-rule="evenodd" {overlapping}/>').area == pytest.approx(600)


@pytest.mark.parametrize(
    ("d", "area", "parts"),
    [
        pytest.param("M0 0 L20 0 L20 20 L10 0 L0 20 Z", 200, 2, id="two triangles that meet in a point"),
        pytest.param("M0 0h20v10h10h-10v10h-20z", 400, 1, id="a spike there and back"),
        pytest.param("M0 0h20v20h-10v-5h5v-10h-10v10h5v5h-10z", 300, 1, id="a frame with a seam"),
        pytest.param("M0 0h20v20h-20v-10l0.01 0.01v-0.02z", 400, 1, id="a loop by rounding"),
    ],
)
@pytest.mark.parametrize("turned", ["", 'transform="scale(-1,1)"'])
def test_a_ring_that_only_touches_itself_is_what_it_encloses(d, area, parts, turned):
    drawing = area_of(f'<path d="{d}" {turned}/>')
    assert drawing.area == pytest.approx(area, abs=0.1)
    assert len(get_parts(drawing)) == parts


@pytest.mark.parametrize("rule", ["nonzero", "evenodd"])
def test_a_ring_that_touches_itself_can_be_a_hole(rule):
    hole = "M10 10 L10 30 L20 10 L30 30 L30 10 Z"  # the other way round than the box
    drawing = area_of(f'<path fill-rule="{rule}" d="M0 0h40v40h-40z {hole}"/>')
    assert drawing.area == pytest.approx(1600 - 200)


def test_a_scribble_is_refused_before_its_crossings_are_worked_out():
    corners = (f"{(n * 37) % 1000},{(n * 611) % 997}" for n in range(20_000))
    began = time.process_time()
    with pytest.raises(UnreadableError, match="crosses itself"):
        area_of(f'<polygon points="{" ".join(corners)}"/>')
    assert time.process_time() - began < 5


def test_shapes_over_each_other_count_once():
    assert area_of(
        RECT + RECT + '<rect x="20" y="30" width="5" height="5" fill="white"/>'
    ).area == pytest.approx(1200)


@pytest.mark.parametrize("width_mm", [20, 200, 2000])
def test_a_disc_s_chords_stay_within_a_tenth_of_a_mm_at_any_size(width_mm):
    drawing = area_of('<circle cx="5" cy="5" r="5"/>', width_mm=width_mm)
    mm_per_unit = width_mm / 10
    missing_mm2 = (math.pi * 25 - drawing.area) * mm_per_unit**2
    assert 0 < missing_mm2 < 0.1 * math.pi * width_mm  # a ring of 0.1 mm along the edge


@pytest.mark.parametrize("width_mm", [20, 200, 2000])
def test_a_curve_s_chords_stay_within_a_tenth_of_a_mm_at_any_size(width_mm):
    drawing = area_of('<path d="M0 0 C 0 40 10 40 10 0 Z"/>', width_mm=width_mm)
    true_area = 240  # of y dx with x = 10 (3t² - 2t³), y = 120 t (1 - t)
    mm_per_unit = width_mm / 10
    edge_mm = 8 * width_mm  # longer than the curve is
    assert 0 < (true_area - drawing.area) * mm_per_unit**2 < 0.1 * edge_mm


@pytest.mark.parametrize(
    ("drawn", "wrong"),
    [
        ('<path d="M0 0 L10 10 L10 0 L0 10 Z"/>', CROSSES),
        ('<path d="M0 20 L10 0 L20 20 L0 8 L20 8 Z"/>', CROSSES),  # a star
        ('<path d="M0 0 h20 v20 h-20 v-20 h20 v20 h-20 z"/>', CROSSES),  # twice around
        ('<line x1="0" y1="0" x2="50" y2="50"/>', "encloses no area"),
        ('<line x1="7" y1="0" x2="7" y2="50"/>', "encloses no area"),
        ('<path d="M0 0 L10 10 L20 20 Z"/>', "encloses no area"),
        ("", "draws no outline"),
        ("<g/>", "draws no outline"),
        ('<rect width="0" height="0"/>', "draws no outline"),
        ('<path d=""/>', "draws no outline"),
    ],
)
def test_a_drawing_that_encloses_nothing_clearly_is_refused(drawn, wrong):
    with pytest.raises(UnreadableError) as refused:
        area_of(drawn)
    assert refused.value.wrong == wrong


def test_a_transform_makes_no_chord_coarser():
    stretched = area_of('<circle cx="0.5" cy="0.5" r="0.5" transform="scale(1000) skewY(30)"/>', width_mm=200)
    missing_mm2 = (math.pi * 500**2 - stretched.area) * (200 / 1000) ** 2
    assert 0 < missing_mm2 < 0.1 * math.pi * 200


def test_a_slanted_rounded_box_is_fine_though_its_box_before_the_slant_is_far_larger():
    drawn = '<rect width="100" height="1" rx="0.5" transform="rotate(90)"/>'
    assert area_of(drawn, width_mm=10).area == pytest.approx(99 + math.pi / 4, abs=0.01)


def test_a_line_right_after_a_close_begins_a_ring_of_its_own():
    area = area_of('<path d="M0 0 h10 v10 z l-5 0 0 -5 z"/>')
    assert area.area == pytest.approx(50 + 12.5)


def test_a_path_of_more_rings_than_a_person_weeds_is_refused():
    squares = "".join(f"M{n * 3} 0h2v2h-2z" for n in range(501))
    with pytest.raises(UnreadableError) as refused:
        area_of(f'<path id="dots" d="{squares}"/>')
    assert (refused.value.place, refused.value.wrong) == (
        '<path id="dots">',
        "one path has more than 500 rings",
    )


def test_a_path_that_crosses_itself_is_named():
    with pytest.raises(UnreadableError) as refused:
        area_of(RECT + '<path id="bow" d="M0 0 L10 10 L10 0 L0 10 Z"/>')
    assert refused.value.place == '<path id="bow">'


@pytest.mark.parametrize("d", ["M0 0 L 1e999 5 L 5 5 Z", "L 5 5", "M", "M0 0 H", "0 0 5 5"])
def test_a_broken_path_is_refused_and_not_read_in_part(d):
    with pytest.raises(UnreadableError):
        area_in(svg(f'<path d="{d}"/>'), WIDTH_MM)


@pytest.mark.parametrize(
    "drawn",
    [
        '<path d="M0 0 C 0 1e9 1 1e9 1 0 Z"/>',
        '<path d="M0 0 Q 0 1e9 1 0 Z"/>',
        '<ellipse rx="1" ry="1e9"/>',
        '<circle r="1" transform="matrix(1 0 0 1e9 0 0)"/>',
        '<path d="M0 0 A 1 1e8 0 0 1 1 1 Z"/>',
    ],
)
def test_a_curve_far_longer_than_the_drawing_is_wide_is_refused_before_it_is_cut(drawn):
    began = time.process_time()
    with pytest.raises(UnreadableError, match="more than 200,000 chords; look for points that lie very far"):
        area_of(drawn)
    assert time.process_time() - began < 1
