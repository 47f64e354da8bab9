"""The word lists that the reader knows: plain sorted text, one entry a line, notes only at the top."""

from __future__ import annotations

import unicodedata
from importlib.resources import files
from itertools import dropwhile

import pytest

WORDS = files("intake.reading") / "words"
LISTS = (
    "color_modifiers",
    "colors_en",
    "colors_es",
    "flavors_en",
    "flavors_es",
    "motifs_en",
    "motifs_es",
    "names",
    "names_also_words",
    "relations_en",
    "relations_es",
    "stop_heads",
    "themes_en",
)


def entries(name: str) -> list[str]:
    lines = (WORDS / f"{name}.txt").read_text(encoding="utf-8").removesuffix("\n").split("\n")
    return list(dropwhile(lambda line: line.startswith("#"), lines))


def folded(name: str) -> set[str]:
    return {entry.casefold() for entry in entries(name)}


def test_every_list_is_known_here() -> None:
    there = {entry.name.removesuffix(".txt") for entry in WORDS.iterdir() if entry.name.endswith(".txt")}
    assert there == set(LISTS)


@pytest.mark.parametrize("name", LISTS)
def test_list_says_what_it_is(name: str) -> None:
    assert (WORDS / f"{name}.txt").read_text(encoding="utf-8").startswith("# ")


@pytest.mark.parametrize("name", LISTS)
def test_entries_are_plain(name: str) -> None:
    def plain(entry: str) -> bool:
        return (
            entry != ""
            and entry == " ".join(entry.split())
            and entry.isprintable()
            and entry == unicodedata.normalize("NFC", entry)
            and not set(entry) & set("#,;|\u2019")
        )

    assert [entry for entry in entries(name) if not plain(entry)] == []


@pytest.mark.parametrize("name", LISTS)
def test_entries_are_sorted_without_duplicates(name: str) -> None:
    keys = [entry.casefold() for entry in entries(name)]
    assert keys == sorted(set(keys))


@pytest.mark.parametrize("name", ["color_modifiers", "colors_en", "colors_es", "flavors_en", "flavors_es"])
def test_words_without_proper_nouns_are_lower_case(name: str) -> None:
    assert [entry for entry in entries(name) if entry != entry.lower()] == []


@pytest.mark.parametrize("name", ["names", "names_also_words"])
def test_names_are_single_words_with_a_capital(name: str) -> None:
    assert [entry for entry in entries(name) if " " in entry or not entry[0].isupper()] == []


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ("motifs_en", "stop_heads"),
        ("themes_en", "stop_heads"),
        ("motifs_en", "themes_en"),
        ("names", "names_also_words"),
        ("names", "stop_heads"),
    ],
)
def test_lists_that_exclude_each_other(one: str, other: str) -> None:
    assert folded(one) & folded(other) == set()


@pytest.mark.parametrize(
    ("name", "members"),
    [
        ("motifs_en", "bunny|dinosaur|fire truck|rocket ship|cowboy boot|baby bottle|graduation cap|Christmas tree"),
        ("motifs_en", "menorah|diya|crescent and star|cross|heart|star|plaque|pumpkin|stethoscope|soccer ball|mermaid"),
        ("motifs_en", "apple|pencil|lamb|dove|excavator|ballet slipper|circus tent|campfire|seashell|wedding cake"),
        ("motifs_es", "mariposa|árbol de Navidad|calavera|conejito|muñeco de nieve|sandía|unicornio|corazón|globo"),
        ("themes_en", "under the sea|woodland|garden party|first rodeo|boho|disco|safari|vintage|retro|nautical|space"),
        ("themes_en", "farm|winter wonderland|two sweet|Halloween|Diwali|Hanukkah|Eid mubarak|back to school|winter"),
        ("names", "Leo|José|Jose|Aaliyah|Ngozi|Wei|Yusuf|Shira|Siobhan|Priya|Mateo|Gertrude|Liz|Ben|Ximena|Kwame"),
        ("names_also_words", "Will|May|Mark|Rose|Grace|Hope|Bill|Pat|Art|Dawn|Summer|Autumn|Daisy|Hunter|Violet|Rosa"),
        ("colors_en", "dusty rose|sage green|baby blue|rose gold|hot pink|navy|ivory|terracotta|pastels|rainbow|gray"),
        ("colors_en", "primary colors|neutrals|jewel tones|burnt orange|black and white|off white|turquoise|grey"),
        ("colors_es", "azul|rosa|morado|morada|plata|dorado|dorada|blanca|verde menta|rosa mexicano|palo de rosa"),
        ("color_modifiers", "light|dark|pale|dusty|baby|hot|neon|muted|soft|bright|deep|pastel|burnt|forest"),
        ("flavors_en", "vanilla|almond|lemon|chocolate|gingerbread|snickerdoodle|vanilla bean|pumpkin spice"),
        ("flavors_es", "vainilla|limón|canela|chocolate|dulce de leche|almendra|cajeta"),
        ("relations_en", "son|daughter|grandson|niece|husband|hubby|mom|mum|nana|boss|coworker|teacher|friend|bestie"),
        ("relations_en", "bff|godson|stepdaughter|little brother|sister in law|mother-in-law|twins|fiancé"),
        ("relations_es", "hijo|hija|nieta|sobrino|esposo|mamá|abuelita|jefe|maestra|ahijada|cuñada|mejor amiga"),
        ("stop_heads", "order|some|custom|decorated|iced|sugar|more|your|those|amazing|need|party|please|dozen|extra"),
        ("stop_heads", "birthday|pickup|price|number|letter|Saturday|two|thanks|cookies"),
    ],
)
def test_members(name: str, members: str) -> None:
    assert [word for word in members.split("|") if word not in entries(name)] == []


@pytest.mark.parametrize(
    ("name", "strangers"),
    [
        ("motifs_en", "cookie|order|dozen|number|letter|box|ship|phone|date|baker|party|birthday|pickup"),
        ("themes_en", "birthday|wedding|party|classic|baptism|graduation|unicorn"),
        ("motifs_es", "galleta|sobre|vino|ola|llama|presente"),
        ("names", "Una|Nada|Mira|Will|May|Grace|Summer|Christmas|Saturday|Cookie|Baker|Mom"),
        ("stop_heads", "star|heart|egg|seal|button|cake|winter|space|princess|Leo"),
    ],
)
def test_strangers(name: str, strangers: str) -> None:
    assert [word for word in strangers.split("|") if word.casefold() in folded(name)] == []
