"""Rosters as spreadsheets save them, and as people spoil them."""

import pytest

from models.errors import JobRefusedError
from models.job.fault_list import FaultList
from models.job.roster import garments_in


def read(text: str | bytes, encoding: str = "utf-8") -> list[tuple[int, str, str, str]]:
    """Number, size, wearer and number on the back of each garment."""
    faults = FaultList("crew.csv")
    garments = garments_in(text if isinstance(text, bytes) else text.encode(encoding), faults)
    faults.refuse_if_any()
    return [(garment.n, garment.size, garment.wearer, garment.number) for garment in garments]


def faults_in(text: str | bytes) -> list[tuple[str, str]]:
    """Place and what is wrong."""
    with pytest.raises(JobRefusedError) as refused:
        read(text)
    assert {fault.file for fault in refused.value.faults} == {"crew.csv"}
    return [(fault.place, fault.wrong) for fault in refused.value.faults]


def test_each_row_is_a_garment_numbered_in_file_order():
    assert read("size,name,number\nM,Sørlund,6\nS,Ndiaye,1\n") == [
        (1, "M", "Sørlund", "6"),
        (2, "S", "Ndiaye", "1"),
    ]


def test_a_quantity_makes_that_many_garments():
    assert read("size,quantity\nM,2\nL,\n") == [(1, "M", "", ""), (2, "M", "", ""), (3, "L", "", "")]


def test_only_the_size_has_to_be_there():
    assert read("size\nXL\n") == [(1, "XL", "", "")]


def test_columns_stand_in_any_order_and_any_case():
    assert read("NAME;Quantity; Size ;nUmBeR\nOkafor;1;L;07\n") == [(1, "L", "Okafor", "07")]


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
def test_comma_semicolon_and_tab_are_told_apart_by_the_header(delimiter):
    rows = [("size", "name"), ("M", '"Voss, Ina; (night\twatch)"')]
    assert read("\n".join(delimiter.join(row) for row in rows)) == [(1, "M", "Voss, Ina; (night watch)", "")]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252"])
def test_letters_come_through_in_utf8_with_or_without_its_mark_and_in_windows_1252(encoding):
    assert read("size,name\nM,Grönblad – Peñalver\n".encode(encoding)) == [
        (1, "M", "Grönblad – Peñalver", "")
    ]


def test_names_of_any_script_come_through():
    assert [row[2] for row in read("size,name\nM,Καλογιάννη\nM,Береговская\nM,浜野\nM,أمينة\n")] == [
        "Καλογιάννη",
        "Береговская",
        "浜野",
        "أمينة",
    ]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_every_line_ending_is_read(ending):
    assert read(ending.join(["size,name", "M,Quaye", "L,Fáfila", ""])) == [
        (1, "M", "Quaye", ""),
        (2, "L", "Fáfila", ""),
    ]


def test_a_line_break_within_quotes_is_a_space():
    assert read('size,name\nM,"Marangoni\r\nVoss"\n') == [(1, "M", "Marangoni Voss", "")]


def test_blank_lines_are_skipped_also_above_the_header_and_as_empty_cells():
    assert read("\nsize,name\n\nM,Quaye\n,\n   \nL,\n") == [(1, "M", "Quaye", ""), (2, "L", "", "")]


def test_empty_columns_at_the_right_are_no_fault():
    assert read("size,name,,\nM,Quaye,,\n") == [(1, "M", "Quaye", "")]


def test_every_faulty_line_is_told_at_once_and_counted_as_an_editor_counts():
    text = 'size,name,quantity\nM,"two\nlines",0\n\n,Quaye,1\nL,Okafor,1,stray\nS,Ndiaye,some\n'
    assert faults_in(text) == [
        ("line 6", "has more cells than the header"),
        ("line 2", 'the quantity "0" is no count'),
        ("line 5", "has no size"),
        ("line 7", 'the quantity "some" is no count'),
    ]


@pytest.mark.parametrize("quantity", ["-1", "0", "1.5", "two", "１", "²", "9" * 5000])
def test_a_quantity_that_is_no_count_is_refused(quantity):
    assert [place for place, _ in faults_in(f"size,quantity\nM,{quantity}\n")] == ["line 2"]


def remarks_in(text: str) -> tuple[str, ...]:
    faults = FaultList("crew.csv")
    garments_in(text.encode(), faults)
    faults.refuse_if_any()
    return faults.remarks


def test_further_columns_are_left_out_and_named_as_they_are_written():
    text = "size,name,Cap,Shoe size,number\nM,Quaye,7,43,12\n"
    assert read(text) == [(1, "M", "Quaye", "12")]
    assert remarks_in(text) == ("crew.csv: line 1: columns left out: Cap, Shoe size",)


def test_a_further_column_that_looks_like_a_missing_one_is_asked_about():
    assert remarks_in("size,nmae,Cap\nM,Quaye,7\n") == (
        'crew.csv: line 1: columns left out: nmae (did you mean "name"?), Cap',
    )


def test_a_roster_of_known_columns_is_read_without_a_word():
    assert remarks_in("size,name,number,quantity,\nM,Quaye,1,1,\n") == ()


def test_a_column_with_cells_and_no_name_is_told_by_its_place():
    assert remarks_in("size,,name,,\nM,,Quaye,,\nL,7,Voss,,\n") == (
        "crew.csv: line 1: columns without a name left out: 2",
    )


def test_a_further_column_may_stand_twice():
    assert remarks_in("size,Cap,Cap\nM,7,8\n") == ("crew.csv: line 1: columns left out: Cap, Cap",)


def test_a_roster_of_further_columns_alone_is_refused():
    assert faults_in("Cap,Shoe\n7,43\n") == [("line 1", "has no column size")]


def test_a_name_with_the_joiner_of_its_script_is_read():
    name = "علی\u200cرضا"
    assert read(f"size,name\nM,{name}\nL,👩\u200d🚒\n") == [(1, "M", name, ""), (2, "L", "👩\u200d🚒", "")]


@pytest.mark.parametrize("sign", ["\u202e", "\u2066", "\u200b"])
def test_a_name_with_a_sign_that_turns_or_hides_letters_is_refused(sign):
    assert [place for place, _ in faults_in(f"size,name\nM,Qua{sign}ye\n")] == ["line 2"]


def test_letters_that_were_saved_apart_from_their_marks_are_one_name():
    assert read("size,name\nM,Nu\u0301n\u0303ez\n") == read("size,name\nM,Núñez\n")


def test_a_column_that_stands_twice_is_refused():
    assert faults_in("size,name,Name\nM,Quaye,Okafor\n") == [("line 1", 'has the column "name" twice')]


def test_a_roster_without_sizes_is_refused():
    assert faults_in("\nname,number\nQuaye,1\n") == [("line 2", "has no column size")]


@pytest.mark.parametrize("text", ["size,name\n", "size\n\n"])
def test_a_roster_without_garments_is_refused(text):
    assert faults_in(text) == [("the whole file", "names no garment")]


def test_an_empty_file_has_no_size_column():
    assert faults_in("") == [("line 1", "has no column size")]


def test_an_open_quote_is_told_with_the_line_on_which_it_opens():
    ((place, wrong),) = faults_in('size,name\nM,Quaye\nL,"Okafor\nS,Ndiaye\n')
    assert (place, wrong.split(" (")[0]) == ("line 3", "is no CSV")


def test_five_thousand_garments_are_read_and_one_more_is_refused():
    assert len(read("size,quantity\nM,4999\nL,1\n")) == 5000
    assert faults_in("size,quantity\nM,4999\nL,2\n") == [("line 3", "makes more than 5,000 garments")]


def test_a_quantity_of_a_billion_is_refused_without_making_them():
    assert faults_in("size,quantity\nM,999999999\n") == [("line 2", "makes more than 5,000 garments")]


def test_utf8_with_a_broken_letter_is_not_taken_for_windows_1252():
    broken = "size,name\nM,Sørlund\nL,Peñalver\n".encode().replace("ñ".encode(), b"\xf1")
    assert faults_in(broken) == [("line 3", "is UTF-8 but for some letters")]


def test_a_byte_that_no_encoding_has_is_told_with_its_line():
    assert faults_in(b"size,name\nM,Qu\x81ye\n") == [("line 2", "is neither UTF-8 nor Windows-1252")]


@pytest.mark.parametrize("encoding", ["utf-16", "utf-32"])
def test_a_file_that_is_not_plain_text_is_refused(encoding):
    assert faults_in("size,name\nM,Quaye\n".encode(encoding)) == [("the whole file", "is not a text file")]


def test_signs_that_cannot_be_printed_are_refused():
    assert [place for place, _ in faults_in("size,name\nM,Qu\x1b[31mye\n")] == ["line 2"]


def test_a_name_longer_than_any_tag_is_refused():
    assert [place for place, _ in faults_in(f"size,name\nM,{'a' * 201}\n")] == ["line 2"]


def test_no_row_past_the_limit_is_read():
    faults = FaultList("crew.csv")
    garments_in(b"size\n" + b",\nM,x\n" * 6_000, faults)
    too_wide, last = faults.refusal().faults[:-1], faults.refusal().faults[-1]
    assert len(too_wide) == 5_000
    assert last.wrong == "makes more than 5,000 garments"


def test_a_header_of_very_many_columns_is_refused_in_one_line():
    columns = ",".join(["size"] + ["x"] * 200_000)
    assert faults_in(f"{columns}\nM\n") == [("line 1", "has more than 100 columns")]


def test_cells_left_empty_beyond_the_header_are_nothing():
    assert read(f"size\nM{',' * 500}\n") == [(1, "M", "", "")]
