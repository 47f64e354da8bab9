"""What a new reading may change: properties over any drafts."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from intake.desk_reread import BAKER, merged, news, noted, paired
from intake.model import DRAFT_FIELDS, Draft, Order, State
from tests.test_record import DRAFTS


@settings(max_examples=30)
@given(DRAFTS, DRAFTS)
def test_where_the_baker_has_done_nothing_the_new_reading_stands(before: Draft, fresh: Draft) -> None:
    assert merged(before, before, fresh) == fresh


@settings(max_examples=30)
@given(DRAFTS, DRAFTS)
def test_where_the_reader_says_the_same_what_the_baker_made_of_it_stands(before: Draft, standing: Draft) -> None:
    assert merged(before, standing, before) == standing


@settings(max_examples=30)
@given(DRAFTS, DRAFTS, DRAFTS)
def test_a_value_that_the_baker_set_is_never_lost(before: Draft, standing: Draft, fresh: Draft) -> None:
    cells = {name: replace(standing.cell(name), rule=BAKER) for name in DRAFT_FIELDS}
    standing = Draft(**cells)
    after = merged(before, standing, fresh)
    for name in DRAFT_FIELDS:
        if standing.cell(name) != before.cell(name):
            assert after.cell(name).value == standing.cell(name).value


@settings(max_examples=30)
@given(DRAFTS, DRAFTS, DRAFTS)
def test_news_is_told_once(before: Draft, standing: Draft, fresh: Draft) -> None:
    lines = news(before, standing, fresh)
    assert news(fresh, standing, fresh) == ()
    note = noted("by hand", lines)
    assert noted(note, lines) == note and note.startswith("by hand")


@settings(max_examples=30)
@given(st.lists(DRAFTS, max_size=4), st.lists(DRAFTS, max_size=4))
def test_each_order_is_paired_once_and_as_many_as_can_be(as_read: list[Draft], fresh: list[Draft]) -> None:
    orders = [Order(i, "t1", i, State.DRAFT, draft) for i, draft in enumerate(as_read)]
    pairs = paired(orders, as_read, fresh)
    used = [i for i in pairs if i is not None]
    assert len(pairs) == len(fresh)
    assert len(used) == len(set(used)) == min(len(orders), len(fresh))


@settings(max_examples=30)
@given(st.lists(DRAFTS, min_size=1, max_size=4, unique_by=repr))
def test_the_same_reading_pairs_each_order_with_itself_or_its_like(drafts: list[Draft]) -> None:
    orders = [Order(i, "t1", i, State.DRAFT, draft) for i, draft in enumerate(drafts)]
    assert sorted(i for i in paired(orders, drafts, drafts) if i is not None) == list(range(len(drafts)))
