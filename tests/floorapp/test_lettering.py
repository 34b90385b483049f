"""Names in other scripts are drawn, in letters of a shipped font, and never as empty boxes."""

from printables.lettering import BOLD, REGULAR, runs_of
from tests.floorapp.driver import Driver


def test_a_latin_name_needs_no_markup(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("Inés Åkerström") == ("Inés Åkerström", False)


def test_what_is_drawn_without_a_closer_look_is_in_the_font_of_the_screen(stage: Driver) -> None:
    from floorapp.lettering import LATIN

    letters = "".join(sorted(LATIN - {"\n"}))
    for fonts, name in ((REGULAR, "B612-Regular"), (BOLD, "B612-Bold")):
        assert {run.font for run in runs_of(letters, fonts)} == {name}


def test_a_name_with_a_letter_that_b612_lacks_comes_from_another_font(stage: Driver) -> None:
    from floorapp.lettering import fitted

    text, is_markup = fitted("Łukasz")
    assert is_markup
    assert text == "[font=NotoSans-Regular]Łukasz[/font]"


def test_a_bold_line_takes_the_bold_font(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("Ł", bold=True)[0] == "[font=NotoSans-Bold]Ł[/font]"


def test_hebrew_is_turned_into_the_order_in_which_it_is_drawn(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("שרה")[0] == "[font=NotoSansHebrew-Regular]הרש[/font]"


def test_a_character_of_no_shipped_font_is_told_by_its_code_point(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("山")[0].strip() == "U+5C71"


def test_brackets_in_a_name_are_no_markup(stage: Driver) -> None:
    from floorapp.widgets.words import Tag

    plain, mixed = Tag(words="[b]x[/b]"), Tag(words="[b]Łx[/b]")
    stage.app.root.add_widget(plain)
    stage.app.root.add_widget(mixed)
    stage.frames(2)
    assert not plain.markup
    assert "&bl;" in mixed.text


def test_lines_stay_lines(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("Ł\nX")[0].count("\n") == 1


def test_a_label_follows_its_words(stage: Driver) -> None:
    from floorapp.widgets.words import Tag

    label = Tag(words="Dahl")
    label.words = "Žižka"
    assert label.markup
    label.words = "Osei"
    assert (label.text, label.markup) == ("Osei", False)


def test_code_points_have_one_blank_between_them_and_around(stage: Driver) -> None:
    from floorapp.lettering import fitted

    assert fitted("M · 山田 B")[0] == "M · U+5C71 U+7530 B"
