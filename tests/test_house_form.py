"""House rules as forms: what is shown, what may be typed, what is refused and where, and what stays in the file."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake import house
from intake.house_form import Field, Refusal, changed, put, sections
from intake.model import OrdertinError

TEXT = house.default_text()


def fields(text: str = TEXT) -> dict[str, Field]:
    return {".".join(field.path): field for section in sections(text) for field in section.fields}


@pytest.mark.parametrize(
    ("name", "kind", "typed"),
    [
        ("house.name", "words", "My cookie kitchen"),
        ("rates.per_dozen.plain", "number", "36.00"),
        ("rates.tax_on_the_way", "yes or no", "no"),
        ("hours.saturday", "list", "08:00-12:00; 13:00-18:00"),
        ("parcels.box", "numbers", "12; 10; 6"),
        ("ingredients.flour.price", "number", "4.00"),
        ("rates.discounts", "file", "[]"),
        ("rates.rush", "file", "[{ under_days = 7, percent = 25 }]"),
        ("recipes.vanilla.makes.count", "file", "24"),
    ],
)
def test_a_rule_stands_in_its_form_as_it_would_be_typed(name: str, kind: str, typed: str) -> None:
    field = fields()[name]
    assert (field.kind, field.typed) == (kind, typed)


def test_every_rule_of_the_file_is_in_a_section_and_each_once() -> None:
    found = [field.path for section in sections(TEXT) for field in section.fields]
    assert len(found) == len(set(found))
    assert {path[0] for path in found} == set(house.House.model_fields) - {"rates_later"}


def test_what_a_file_leaves_out_stands_with_what_holds_then_and_can_be_set() -> None:
    text = TEXT.replace("[mail]", "# no mail yet\n[mail]")
    whole = text.partition("[costs]")[0] + "[till]" + text.partition("[till]")[2]
    assert fields(whole)["costs.hour"].typed == "18.00"
    after = changed(whole, {("costs", "hour"): "21"})
    assert isinstance(after, str)
    assert house.parse(after).costs.hour == 21
    assert "# no mail yet" in after


@pytest.mark.parametrize(
    ("name", "typed", "line"),
    [
        ("rates.per_dozen.plain", "37.50", "per_dozen = { plain = 37.50, detailed = 48.00, elaborate = 62.00 }"),
        ("hours.monday", "18:00-20:00, 21:00-22:00", 'monday = ["18:00-20:00", "21:00-22:00"]'),
        ("hours.monday", "", "monday = []"),
        ("parcels.box", "12 x 10 x 7", "box = [12, 10, 7]              # inches, outside"),
        ("house.baker", 'Nell "N" \\ Ames', 'baker = "Nell \\"N\\" \\\\ Ames"                     # how you sign'),
        ("rates.valid_days", " 9 ", "valid_days = 9                 # a quote holds this long"),
    ],
)
def test_what_is_typed_changes_one_line_and_keeps_its_note(name: str, typed: str, line: str) -> None:
    after = changed(TEXT, {tuple(name.split(".")): typed})
    assert isinstance(after, str)
    assert [new for old, new in zip(TEXT.split("\n"), after.split("\n"), strict=True) if old != new] == [line]


@pytest.mark.parametrize(
    ("name", "typed", "what"),
    [
        ("rates.valid_days", "0", "This must be at least 1."),
        ("rates.valid_days", "2.5", "This must be a whole number."),
        ("rates.valid_days", "a week", "This must be a number, such as 12 or 4.50."),
        ("rates.per_dozen.plain", "50", "This must rise with the work: plain 50, detailed 48.00, elaborate 62.00."),
        ("rates.tax_on_the_way", "perhaps", "This must be yes or no."),
        ("hours.friday", "late", 'This must be hours such as "18:00-21:30".'),
        ("hours.handover_time", "5pm", "This must be a time such as 17:00."),
        ("hours.blocked", "soon", "This must be days such as 2027-07-04."),
        ("house.name", "", "This must not be empty."),
        ("house.language", "fr", "This must be one of: en, es."),
        ("mail.server", "a b", "This has a letter or sign that can't stand here."),
        ("parcels.box", "big", "This must be numbers with a semicolon between two."),
        ("rates.rush", "[]", "This is no longer in the file as it was: edit it in the file."),
    ],
)
def test_a_refusal_names_the_field_and_what_is_wrong(name: str, typed: str, what: str) -> None:
    place = tuple(name.split("."))
    refused = changed(TEXT, {("house", "baker"): "Nell", place: typed})
    assert isinstance(refused, Refusal)
    assert refused.what == what
    assert refused.path[:2] == place[:2]


@settings(max_examples=60)
@given(st.data())
def test_whatever_is_typed_the_file_stays_house_rules(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from([key for key, field in fields().items() if field.kind != "file"]))
    typed = data.draw(st.text(st.characters(codec="utf-8", exclude_categories=["Cs", "Cc"]), max_size=20))
    after = changed(TEXT, {tuple(name.split(".")): typed})
    if isinstance(after, Refusal):
        assert after.what.endswith(".")
    else:
        house.parse(after)
        assert after.count("#") >= TEXT.count("#")


def test_another_hands_change_is_not_written_over(tmp_path: Path) -> None:
    path = tmp_path / "house.toml"
    path.write_text(TEXT + "# mine\n", encoding="utf-8")
    with pytest.raises(OrdertinError, match="changed elsewhere"):
        put(path, TEXT, TEXT)
    assert path.read_text(encoding="utf-8") == TEXT + "# mine\n"
    put(path, TEXT + "# mine\n", TEXT)
    assert path.read_text(encoding="utf-8") == TEXT


def test_a_file_that_is_no_toml_is_refused_in_words() -> None:
    with pytest.raises(OrdertinError, match="by hand"):
        sections("[house\n")
