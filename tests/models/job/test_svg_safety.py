"""Drawings that are not what they seem, or that an outline cannot follow, are refused with their place."""

import time

import pytest

from models.job.fault_list import FaultList
from models.job.svg_safety import must_be_plain

PATH = '<path d="M0 0h9v9z"/>'


def svg(inside: str, before: str = "") -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"{before}<svg {names}>{inside}</svg>".encode()


def faults_of(content: bytes) -> list[tuple[str, str]]:
    """Place and what is wrong; the line is left out where it is the first, as in all drawings of one line."""
    faults = FaultList("art/anchor.svg")
    is_plain = must_be_plain(content, faults)
    told = faults.refusal().faults
    assert is_plain == (not told)
    assert {fault.file for fault in told} <= {"art/anchor.svg"}
    return [(fault.place.removeprefix("line 1 "), fault.wrong) for fault in told]


def test_a_drawing_as_editors_save_it_is_plain():
    inside = (
        '<title>Anchor</title><metadata><rdf:RDF xmlns:rdf="urn:r"><rdf:li>x</rdf:li></rdf:RDF></metadata>'
        '<e:view xmlns:e="urn:e" e:zoom="2"/><defs><linearGradient id="g"><stop offset="0"/></linearGradient>'
        '<path id="p" d="M0,0 c1-2 3.5e-1.5 4 4z"/></defs><style>.a { fill: url(#g) }</style>'
        '<g transform="translate(1 2) rotate(-30)" class="a"><use xlink:href="#p"/></g>'
        '<rect x="1mm" y="-2.5" width="10%" height="1e1" fill="url(#g)" style="stroke:none"/>'
    )
    assert faults_of(svg(inside, '<?xml version="1.0" encoding="UTF-8"?><!-- drawn by hand -->')) == []


def test_the_standard_s_own_document_type_is_let_pass():
    doctype = (
        '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    )
    assert faults_of(svg(PATH, doctype)) == []


BOMB = '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
FOREIGN = '<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/hostname">]>'
HIDDEN_IN_STANDARD = (
    '<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/x.dtd" [<!ENTITY a "M0 0h9v9z">]>'
)


@pytest.mark.parametrize(
    "doctype",
    [
        BOMB,
        FOREIGN,
        HIDDEN_IN_STANDARD,
        '<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://example.org/x.dtd"> %p;]>',
        '<!DOCTYPE svg SYSTEM "http://example.org/x.dtd">',
        '<!DOCTYPE svg PUBLIC "-//Other//DTD//EN" "x.dtd">',
        "<!DOCTYPE svg>",
    ],
)
def test_entities_and_document_types_of_its_own_are_refused(doctype):
    assert faults_of(svg(PATH, doctype)) == [
        ("the whole file", "declares entities or a document type of its own")
    ]


def test_entities_are_refused_in_any_encoding():
    text = f'<?xml version="1.0" encoding="UTF-16"?>{BOMB}<svg xmlns="http://www.w3.org/2000/svg">&b;</svg>'
    assert faults_of(text.encode("utf-16")) == [
        ("the whole file", "declares entities or a document type of its own")
    ]


OUTSIDE = "refers to something outside the drawing"


@pytest.mark.parametrize(
    ("inside", "place"),
    [
        ('<use href="other.svg#a"/>', "<use>"),
        ('<use id="u" xlink:href="http://example.org/a.svg#a"/>', '<use id="u">'),
        ('<use href="data:image/svg+xml,x"/>', "<use>"),
        ('<use href="file:///etc/hostname"/>', "<use>"),
        ('<a href="https://example.org"><path d="M0 0h9v9z"/></a>', "<a>"),
        ('<path d="M0 0h9v9z" fill="url(http://example.org/x.svg#g)"/>', "<path>"),
        ('<path d="M0 0h9v9z" style="fill: url( \'x.svg#g\' )"/>', "<path>"),
        ('<path d="M0 0h9v9z" style="fill: URL(&quot;x.png&quot;)"/>', "<path>"),
        ("<style>@import 'x.css';</style>", "<style>"),
        ("<style>.a { fill: url(x.png) }</style>", "<style>"),
        ("<style><![CDATA[@font-face { src: url(//example.org/f) }]]></style>", "<style>"),
    ],
)
def test_a_reference_out_of_the_drawing_is_refused(inside, place):
    assert (place, OUTSIDE) in faults_of(svg(inside))


@pytest.mark.parametrize(
    ("inside", "place"),
    [
        ("<script>alert(1)</script>", "<script>"),
        ('<image href="#x"/>', "<image>"),
        ('<text id="t">24</text>', '<text id="t">'),
        ("<foreignObject/>", "<foreignObject>"),
        ("<symbol><path d='M0 0h9v9z'/></symbol>", "<symbol>"),
        ("<mask/>", "<mask>"),
        ("<clipPath/>", "<clipPath>"),
        ("<pattern/>", "<pattern>"),
        ("<marker/>", "<marker>"),
        ("<switch/>", "<switch>"),
        ("<svg/>", "<svg>"),
        ('<path d="M0 0h9v9z"><animate attributeName="d"/></path>', "<animate>"),
    ],
)
def test_what_an_outline_cannot_follow_is_refused_and_not_left_out(inside, place):
    assert faults_of(svg(inside)) == [(place, "is not read in an outline")]


@pytest.mark.parametrize("attribute", ["clip-path", "mask", "filter"])
@pytest.mark.parametrize("written", ['{}="url(#c)"', 'style="fill: none; {}: url(#c)"'])
def test_a_clipped_or_masked_path_is_refused(attribute, written):
    inside = f'<path d="M0 0h9v9z" {written.format(attribute)}/>'
    assert faults_of(svg(inside)) == [("<path>", f"{attribute} changes the outline and is not followed")]


def test_a_mask_in_a_style_sheet_is_refused():
    assert faults_of(svg(f"<style>path {{ mask: url(#m) }}</style>{PATH}")) == [
        ("<style>", "mask changes the outline and is not followed")
    ]


def test_a_fault_is_told_with_its_line():
    drawing = svg('\n<g>\n  <path d="M0 0h9v9z"/>\n  <image id="photo"/>\n</g>\n')
    assert faults_of(drawing) == [('line 4 <image id="photo">', "is not read in an outline")]


def test_a_style_sheet_of_another_file_is_refused():
    sheet = '<?xml version="1.0"?>\n<?xml-stylesheet type="text/css" href="http://example.org/x.css"?>\n'
    assert faults_of(svg(PATH, sheet)) == [("line 2", OUTSIDE)]


@pytest.mark.parametrize(
    "sheet",
    [
        "a" * 15_000,
        "a { fill: red",
        "a { fill: red } b",
        "a { b { fill: red } }",
        "/* " * 5_000,
        "a { fill: red } /* b",
        "a//{b:c}\n" * 1_000,
        "@im\\port 'x.css'; a { fill: red }",
        f"a {{ fill: red }} {' ' * 100} b {{ fill: red }}",
        f"{'a, ' * 1_000} b {{ fill: red }}",
        "a { fill: red } " * 2_000,
    ],
)
def test_a_style_sheet_that_is_not_plain_rules_is_refused_at_once(sheet):
    started = time.monotonic()
    assert faults_of(svg(f"<style>{sheet}</style>{PATH}")) == [
        ("<style>", "is not a short list of plain rules")
    ]
    assert time.monotonic() - started < 2


def test_a_style_sheet_as_editors_write_it_is_plain():
    sheet = "\n\t/* { layers } */\n\t.a, .b { fill: #fff }\n\tpath.c{fill-rule:evenodd;stroke:none;}\n"
    assert faults_of(svg(f"<style>{sheet}</style>{PATH}")) == []


@pytest.mark.parametrize("written", ['style="{}"', 'transform="{}"', 'class="{}"'])
def test_an_attribute_too_long_to_be_read_is_refused(written):
    attribute = written.format(" " * 200)
    assert [wrong for _, wrong in faults_of(svg(f'<path d="M0 0h9v9z" {attribute}/>'))] == [
        f"{written.partition('=')[0]} is too long to be read"
    ]


def test_what_an_editor_notes_for_itself_may_be_long():
    assert faults_of(svg(f'<path xmlns:e="urn:e" e:original="{"M0 0 " * 2_000}" d="M0 0h9v9z"/>')) == []


def test_very_many_elements_are_refused_before_they_are_read():
    started = time.monotonic()
    assert [wrong for _, wrong in faults_of(svg("<g/>" * 2_000_000))] == ["has more than 20,000 elements"]
    assert time.monotonic() - started < 5


def test_an_event_is_a_script():
    assert faults_of(svg('<path d="M0 0h9v9z" onclick="alert(1)"/>')) == [("<path>", "onclick is a script")]


@pytest.mark.parametrize(
    ("attribute", "written"),
    [
        ("d", "M0 0 L banana"),
        ("d", "M0 0h9v9z; M1"),
        ("points", "0,0 9,x"),
        ("transform", "translate(5px)"),
        ("transform", "turn(5)"),
        ("transform", "rotate(NaN)"),
        ("width", "wide"),
        ("r", "NaN"),
        ("cx", "2em"),
        ("viewBox", "0 0 100"),
    ],
)
def test_a_broken_attribute_is_refused_and_not_guessed(attribute, written):
    assert faults_of(svg(f'<path {attribute}="{written}"/>')) == [
        ("<path>", f"{attribute} is not written as SVG asks")
    ]


def test_all_faults_are_told_at_once_each_kind_once_an_element():
    inside = '<script/><image href="x.png"/><path d="?" onload="x"/><path d="?" onload="x"/>'
    assert faults_of(svg(inside)) == [
        ("<script>", "is not read in an outline"),
        ("<image>", "is not read in an outline"),
        ("<image>", "refers to something outside the drawing"),
        ("<path>", "d is not written as SVG asks"),
        ("<path>", "onload is a script"),
    ]


@pytest.mark.parametrize(
    ("content", "place", "wrong"),
    [
        (b"", "line 1, column 1", "is no SVG: its XML is broken"),
        (b"<svg>\n <path>\n</svg>", "line 3, column 3", "is no SVG: its XML is broken"),
        (b"not a drawing", "line 1, column 1", "is no SVG: its XML is broken"),
        (b"\x89PNG\r\n\x1a\n", "line 1, column 1", "is no SVG: its XML is broken"),
        (b"<html/>", "the whole file", "is no SVG drawing"),
        (b'<svg xmlns="urn:other"/>', "the whole file", "is no SVG drawing"),
        (b'<?xml version="1.0" encoding="klingon"?><svg/>', "the whole file", "is no SVG text"),
    ],
)
def test_what_is_no_drawing_is_refused_with_its_line(content, place, wrong):
    assert (place, wrong) in [(p, w) for p, w in faults_of(content)]


def test_a_drawing_that_repeats_itself_without_end_is_refused():
    inside = '<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'
    assert [wrong for _, wrong in faults_of(svg(inside))] == ["repeats itself without end"]


def test_a_use_of_nothing_is_refused():
    assert faults_of(svg('<use id="u" href="#gone"/>')) == [
        ('<use id="u">', 'uses "gone", which is not in the drawing')
    ]


def test_few_lines_that_draw_billions_of_elements_are_refused_at_once():
    groups = "".join(f'<g id="g{n}">' + f'<use href="#g{n - 1}"/>' * 10 + "</g>" for n in range(1, 12))
    started = time.monotonic()
    assert faults_of(svg(f'<path id="g0" d="M0 0h9v9z"/>{groups}')) == [
        ("the whole file", "has more detail than 2,000 elements")
    ]
    assert time.monotonic() - started < 2


def test_groups_nested_a_thousand_deep_are_refused():
    assert faults_of(svg("<g>" * 5000 + "</g>" * 5000)) == [("line 1", "is nested too deeply")]


def test_a_path_of_very_many_letters_is_too_much_detail():
    assert faults_of(svg(f'<path d="M0 0{" 1 1" * 70_000}"/>')) == []
    assert faults_of(svg(f'<path d="M0 0{" 1 1" * 75_000}"/>')) == [
        ("the whole file", "has more detail than 2,000 elements")
    ]


def test_a_detailed_path_drawn_again_and_again_is_too_much_detail():
    path = f'<path id="p" d="M0 0{" 1 1" * 1000}"/>'
    assert faults_of(svg(path + '<use href="#p"/>' * 100)) == [
        ("the whole file", "has more detail than 2,000 elements")
    ]


@pytest.mark.parametrize(
    "inside",
    [
        f'<path x="{"1" * 500_000}z"/>',
        f'<path transform="{" " * 500_000}x"/>',
        f"<style>url({' ' * 500_000}</style>",
        f"<style>mask{' ' * 500_000}</style>",
    ],
)
def test_long_nonsense_is_judged_at_once(inside):
    started = time.monotonic()
    faults_of(svg(inside))
    assert time.monotonic() - started < 5


@pytest.mark.parametrize("style", ["mask: none", "clip-path:none", "text-transform: none; stroke-width: 2"])
def test_a_style_that_masks_nothing_is_plain(style):
    assert faults_of(svg(f'<path d="M0 0h9v9z" style="{style}"/>')) == []


@pytest.mark.parametrize(
    "drawn",
    [f'<path d="{"M0 0h9v9z" * 2_001}"/>', f'<path d="M0 0{"h9v9z" * 2_001}"/>', '<circle r="9"/>' * 700],
)
def test_subpaths_and_circles_count_as_detail(drawn):
    assert [wrong for _, wrong in faults_of(svg(drawn))] == ["has more detail than 2,000 elements"]
