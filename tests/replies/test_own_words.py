"""The baker's own wording: what is wrong where, which words stand in, and that nothing of hers is lost."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from intake.house import default_house
from intake.model import OrdertinError
from intake.replies.copies import file_names, language_of, shipped
from intake.replies.field_list import FIELDS, value_shown
from intake.replies.fields import fields_of
from intake.replies.own_words import bring_back, keep, put_back, seen, wording, wordings
from intake.replies.sample import full, samples
from intake.replies.wording import KINDS, tried, write
from tests.replies.orders import order

HOUSE = default_house()
OURS = shipped("thanks.txt")
MINE, OTHER = "Bye {{ name }}.\n", "So long, {{ name }}.\n"
BROKEN = "Bye {{ nmae }}.\n"


def answer(folder: Path) -> tuple[str, str]:
    """What an answer says by the wording in `folder`, and whose words it says that they are."""
    made = write("thanks", order(), HOUSE, templates=folder)
    return made.text, made.notice


def kept(folder: Path, *words: str) -> None:
    for each in words:
        keep(folder, "thanks.txt", each, was=wording(folder, "thanks.txt").words)


#: What is kept one after the other, what an answer then says, and what it says of its words.
KEPT = [
    ("nothing", (), "Thank you for your order", ""),
    ("hers", (MINE,), "Bye Gwen.", ""),
    ("broken at once", (BROKEN,), "Thank you for your order", "in the words that came with the program"),
    ("broken after hers", (MINE, BROKEN), "Bye Gwen.", "in your last words that worked"),
    ("broken twice", (MINE, BROKEN, BROKEN + "x\n"), "Bye Gwen.", "in your last words that worked"),
    ("the last of two", (MINE, OTHER, BROKEN), "So long, Gwen.", "in your last words that worked"),
    ("mended", (MINE, BROKEN, OTHER), "So long, Gwen.", ""),
    ("ours typed in", (MINE, OURS, BROKEN), "Thank you for your order", "that came with the program"),
]


@pytest.mark.parametrize(("words", "text", "notice"), [case[1:] for case in KEPT], ids=[case[0] for case in KEPT])
def test_an_answer_is_in_the_last_words_that_work(
    words: tuple[str, ...], text: str, notice: str, tmp_path: Path
) -> None:
    kept(tmp_path, *words)
    said, whose = answer(tmp_path)
    assert text in said
    assert notice in whose
    assert bool(whose) is bool(notice)
    if words:
        # What she typed is hers to mend, whatever is wrong with it.
        assert wording(tmp_path, "thanks.txt").words == (tmp_path / "thanks.txt").read_text() == words[-1]


def test_a_notice_says_in_which_line_of_which_file(tmp_path: Path) -> None:
    kept(tmp_path, f"Hi\n\n{BROKEN}")
    assert "(thanks.txt, line 3: there is no field called `nmae`)" in answer(tmp_path)[1]


def test_words_set_by_another_program_become_the_last_good_ones(tmp_path: Path) -> None:
    answer(tmp_path)
    (tmp_path / "thanks.txt").write_text(MINE)
    assert answer(tmp_path) == ("Bye Gwen.", "")
    (tmp_path / "thanks.txt").write_text(BROKEN)
    said, notice = answer(tmp_path)
    assert said == "Bye Gwen."
    assert "your last words that worked" in notice


def test_good_words_that_were_never_used_are_kept_when_broken_ones_follow(tmp_path: Path) -> None:
    answer(tmp_path)
    (tmp_path / "thanks.txt").write_text(MINE)
    keep(tmp_path, "thanks.txt", BROKEN, was=MINE)
    assert answer(tmp_path)[0] == "Bye Gwen."


@pytest.mark.parametrize("data", [b"\xff\xfe\x00", BROKEN.encode(), b""], ids=["no text", "broken", "empty"])
def test_a_spoilt_last_good_file_is_passed_over(data: bytes, tmp_path: Path) -> None:
    kept(tmp_path, MINE, BROKEN)
    (tmp_path / "thanks.txt.last-good").write_bytes(data)
    assert "Thank you for your order" in answer(tmp_path)[0]


def test_our_words_and_hers_change_places(tmp_path: Path) -> None:
    kept(tmp_path, MINE)
    with pytest.raises(OrdertinError, match="went aside"):
        bring_back(tmp_path, "thanks.txt")
    ours = put_back(tmp_path, "thanks.txt")
    assert (ours.words, ours.is_hers, ours.before) == (OURS, False, True)
    assert "Thank you for your order" in answer(tmp_path)[0]
    assert put_back(tmp_path, "thanks.txt").before  # twice loses nothing
    assert bring_back(tmp_path, "thanks.txt").words == MINE
    assert answer(tmp_path)[0] == "Bye Gwen."
    assert bring_back(tmp_path, "thanks.txt").words == OURS


def test_our_words_put_back_are_the_last_good_ones(tmp_path: Path) -> None:
    kept(tmp_path, MINE)
    put_back(tmp_path, "thanks.txt")
    kept(tmp_path, BROKEN)
    assert "Thank you for your order" in answer(tmp_path)[0]


def test_what_another_program_has_put_there_meanwhile_goes_aside(tmp_path: Path) -> None:
    kept(tmp_path, MINE)
    (tmp_path / "thanks.txt").write_text(OTHER)
    assert keep(tmp_path, "thanks.txt", "Mine again, {{ name }}.\n", was=MINE).before
    assert bring_back(tmp_path, "thanks.txt").words == OTHER


@pytest.mark.parametrize("data", [b"\xff\xfe\x00bad", b"x" * 30_000], ids=["no text", "too long"])
def test_a_copy_that_can_not_be_read_shows_ours_and_goes_aside(data: bytes, tmp_path: Path) -> None:
    (tmp_path / "thanks.txt").write_bytes(data)
    found = wording(tmp_path, "thanks.txt")
    assert found.words == OURS
    assert found.fault is not None
    keep(tmp_path, "thanks.txt", MINE, was=found.words)
    assert answer(tmp_path)[0] == "Bye Gwen."
    assert (tmp_path / "thanks.txt.before").read_bytes() == data


def test_a_link_is_followed(tmp_path: Path) -> None:
    folder, real = tmp_path / "wording", tmp_path / "elsewhere.txt"
    folder.mkdir()
    real.write_text(MINE)
    (folder / "thanks.txt").symlink_to(real)
    keep(folder, "thanks.txt", OTHER, was=MINE)
    assert (real.read_text(), (folder / "thanks.txt").is_symlink()) == (OTHER, True)


def test_a_file_is_written_whole_or_not_at_all(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    kept(tmp_path, MINE)
    before = {path.name: path.read_bytes() for path in tmp_path.iterdir()}

    def full(handle: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    for change in (lambda: kept(tmp_path, OTHER), lambda: put_back(tmp_path, "thanks.txt")):
        with pytest.raises(OrdertinError, match="can't be written: No space left"):
            change()
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == before


@pytest.mark.parametrize("name", ["praise.txt", "../house.toml", ""])
def test_only_wording_is_written(name: str, tmp_path: Path) -> None:
    for act in (lambda: wording(tmp_path, name), lambda: keep(tmp_path, name, MINE, was="")):
        with pytest.raises(OrdertinError, match="no wording called"):
            act()
    assert list(tmp_path.iterdir()) == []


def test_words_too_long_to_be_read_again_are_not_kept(tmp_path: Path) -> None:
    kept(tmp_path, MINE)
    with pytest.raises(OrdertinError, match="longer than 20,000"):
        kept(tmp_path, "x" * 20_001)
    assert wording(tmp_path, "thanks.txt").words == MINE


def test_the_list_has_every_answer_in_both_languages(tmp_path: Path) -> None:
    found = wordings(tmp_path)
    assert {(each.kind, each.language) for each in found} == {(kind, lang) for kind in KINDS for lang in ("en", "es")}
    assert not any(each.is_hers or each.fault or each.before for each in found)
    kept(tmp_path, BROKEN)
    assert [each.file for each in wordings(tmp_path) if each.fault] == ["thanks.txt"]


VIEWS = [
    ("as typed", "Yes {{ name }}", MINE, "Yes Bea", 0, ""),
    ("with a mistake", "Yes\n{{ nmae }}", MINE, "Bye Bea.", 2, "nmae"),
    ("both with one", BROKEN, BROKEN, "", 1, "nmae"),
    ("nothing", "", MINE, "Bye Bea.", 0, "empty"),
]


@pytest.mark.parametrize(("words", "good", "text", "line", "what"), [v[1:] for v in VIEWS], ids=[v[0] for v in VIEWS])
def test_a_view_shows_what_would_be_sent(words: str, good: str, text: str, line: int, what: str) -> None:
    values = fields_of(full("thanks")[0], HOUSE, None, "en")
    found = seen(words, good, values, "en")
    assert found.text == text
    assert (found.fault.line if found.fault else 0) == line
    assert what in (found.fault.what if found.fault else "")


@settings(max_examples=200)
@given(st.text(st.sampled_from("{}%# |\n'\"()ifendforname count.=1"), max_size=60) | st.text(max_size=40))
def test_whatever_is_typed_is_told_or_shown(words: str) -> None:
    values = fields_of(full()[0], HOUSE, None, "en")
    found = seen(words, MINE, values, "en")
    assert found.text
    assert found.fault is None or found.fault.line <= words.count("\n") + 1


# The list of fields


def test_the_list_names_each_field_once() -> None:
    named = [field.name for field in FIELDS]
    assert sorted(named) == sorted(fields_of(order(), HOUSE, None, "en"))


@pytest.mark.parametrize("field", FIELDS, ids=lambda field: field.name)
def test_a_field_is_printed_as_the_list_says(field) -> None:  # type: ignore[no-untyped-def]
    assert tried(f"Hi {field.as_written}", "en") is None
    made, verdict = full("ask")
    values = fields_of(made, HOUSE, verdict, "en")
    shown = value_shown(field, values)
    assert "\n" not in shown
    assert (shown == "empty") is (not values[field.name])
    assert isinstance(values[field.name], list | tuple) is field.many


@pytest.mark.parametrize("file", file_names())
def test_a_sample_fills_every_template(file: str) -> None:
    kind = file.partition(".")[0].replace("_", " ")
    made, verdict = full(kind)
    values = fields_of(made, HOUSE, verdict, language_of(file))
    found = seen(shipped(file), "", values, language_of(file))
    assert found.fault is None
    assert "  " not in found.text
    assert len(list(samples())) == 2
