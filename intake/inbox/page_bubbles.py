"""The elements of a page that are messages: those of one sort that again and again hold a time, a name and words."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from intake.inbox import page_times
from intake.inbox.page_marks import SHORT, Marks, class_words, is_photo, is_sign, text_of
from intake.inbox.page_tree import Node
from intake.inbox.shapes import INWARD, OUTWARD

OUT = OUTWARD | frozenset(("mine", "own", "right", "myself"))
IN = INWARD | frozenset(("other", "others", "them", "left", "theirs", "customer"))

_NO_MESSAGE = frozenset("# #who a abbr b body em h1 h2 head html i img label page small span strong time u x".split())
_NEVER_APART = frozenset("# #who a b em i img p small span strong td th u".split())
_SENDERS = frozenset(
    "sender author from name user username who participant contact nick nickname speaker writer remitente".split()
)
_SENDER_KEYS = (
    "data-sender",
    "data-author",
    "data-from",
    "data-sender-name",
    "data-name",
    "data-username",
    "data-user",
)
_TEXTS = frozenset("text body content message messages bubble msg words caption".split())
_TRIED = 8
_SAMPLE = 100
_MOST_IN_ONE = 3000


@dataclass(slots=True)
class Bubble:
    """One message as it stands on the page. `sender` and `said` (its time) are empty where they are not shown with
    it; `words` are the words of its classes, by which the two sides are told apart."""

    number: int
    said: str
    sender: str
    text: str
    photos: tuple[str, ...]
    words: frozenset[str] = frozenset()
    mine: bool | None = None


@dataclass(slots=True)
class _Facts:
    """What lies within one element, each labelled by what it is of."""

    node: Node
    nodes: list[tuple[str, Node]] = field(default_factory=list)


def bubbles_of(root: Node, marks: Marks) -> tuple[list[Bubble], set[Node]]:
    """The messages of a page in its order, and the elements that they fill."""
    best: tuple[float, list[Node]] = (0.0, [])
    for members in _sorts(root, marks):
        score = _Sort(members[:_SAMPLE], marks).score() * max(1.0, len(members) / _SAMPLE)
        if score > best[0] * 1.001:
            best = score, members
    if not best[1]:
        return [], set()
    sort = _Sort(best[1], marks)
    filled = {inner for node in best[1] for inner in node.all()}
    found = list(sort.bubbles())
    if sum(bool(bubble.said) for bubble in found) > 0.6 * len(found):
        found = [bubble for bubble in found if bubble.said or bubble.sender]  # the head of a table says neither
    return found, filled


def _sorts(root: Node, marks: Marks) -> Iterator[list[Node]]:
    """Elements by their sort, the most promising sorts first."""
    sorts: dict[str, list[Node]] = defaultdict(list)
    for node in root.all():
        if node in marks.passed or marks.size.get(node, 0) < 1 or node in marks.times:
            continue
        if node.tag not in _NO_MESSAGE or (node.tag == "span" and "class" in node.attrs):
            for sort in _names(node):
                sorts[sort].append(node)
        if marks.count[node] > 1 or (marks.count[node] and len(node.nodes) > 3):
            for sort, run in _runs(node, marks):
                sorts[sort].append(run)
    ranked: list[tuple[float, int, list[Node]]] = []
    for members in sorts.values():
        kept = _outermost(members)
        if len(kept) * 1.25 < len(members):
            continue
        timed = sum(_rough(node, marks) for node in kept)
        ranked.append((timed, -len(ranked), kept))
    ranked.sort(key=lambda found: found[:2], reverse=True)
    yield from (members for timed, _, members in ranked[:_TRIED] if timed > 0.5)


def _rough(node: Node, marks: Marks) -> float:
    count = 1 if node in marks.own else marks.count[node]
    return (0.4, 1.0, 0.5)[count] if count < 3 else 0.0


def _names(node: Node) -> Iterator[str]:
    up = _label(node.up) if node.up else ""
    classes = node.attrs.get("class", "").split()[:20]
    yield from (f"{node.tag}.{name}" for name in classes)
    yield from (f"{node.tag}[{name}]" for name in node.attrs if name == "role" or name.startswith("data-"))
    if not classes:
        yield f"{up}>{node.tag}"


def _label(node: Node) -> str:
    return f"{node.tag}.{node.attrs.get('class', '')[:100]}"


def _runs(node: Node, marks: Marks) -> Iterator[tuple[str, Node]]:
    """Children that follow one another as heading and words do, each run put into an element of its own."""
    spots = [(n, part) for n, part in enumerate(node.parts) if isinstance(part, Node) and part.tag not in ("#", "#who")]
    labels = [_label(part) for _, part in spots]
    for head in list(dict.fromkeys(labels[:6]))[:3]:
        starts = [n for (n, _), label in zip(spots, labels, strict=True) if label == head]
        if len(starts) == len(spots) or (len(starts) < 2 and node.tag != "dl"):
            continue
        for start, end in zip(starts, [*starts[1:], len(node.parts)], strict=True):
            run = Node("run", {}, node, 0, node.parts[start:end])
            run.number = run.nodes[0].number
            marks.count[run] = sum(marks.count[inner] for inner in run.nodes)
            marks.size[run] = sum(marks.size[inner] for inner in run.nodes)
            yield f"{_label(node)}*{head}", run


def _outermost(members: Sequence[Node]) -> list[Node]:
    if members and members[0].tag == "run":
        known = {run.up for run in members}
        return [run for run in members if run.up and not any(up in known for up in _above(run.up))]
    known = set(members)
    return [node for node in members if not any(up in known for up in _above(node))]


def _above(node: Node) -> Iterator[Node]:
    up = node.up
    while up:
        yield up
        up = up.up


class _Sort:
    """Elements of one sort, and which parts of them are time, name and words."""

    def __init__(self, members: Sequence[Node], marks: Marks) -> None:
        self._marks = marks
        self._facts = [self._look(node) for node in members]
        self._times = self._time_labels()
        self._sender = self._sender_label()
        self._text = self._text_label()

    def _look(self, member: Node) -> _Facts:
        """Everything within `member`, labelled by class, or by its place where it has none."""
        facts = _Facts(member)
        counts: Counter[str] = Counter()
        rest: list[tuple[str, Node]] = [("", member)]
        while rest and len(facts.nodes) < _MOST_IN_ONE:
            above, node = rest.pop()
            classes = sorted(set(node.attrs.get("class", "").split()[:10]) - OUT - IN)
            label = ".".join((node.tag, *classes)) if classes else f"{above}>{node.tag}"
            if node in self._marks.times:
                counts[label] += 1
                label = f"{label} {counts[label]}"
            if node is not member:
                facts.nodes.append((label, node))
            if node not in self._marks.times:
                inner = [part for part in node.nodes if part not in self._marks.passed]
                rest.extend((label if node is not member else "", part) for part in reversed(inner))
        return facts

    def _time_labels(self) -> list[str]:
        """The label of the times, two where the day stands apart from the clock."""
        kinds: dict[str, Counter[str]] = defaultdict(Counter)
        for facts in self._facts:
            seen = set()
            for label, node in facts.nodes:
                if node in self._marks.times and label not in seen:
                    seen.add(label)
                    kinds[label][_kind(self._marks.times[node])] += 1
        if not kinds:
            return []

        def worth(label: str) -> tuple[float, bool]:
            by_kind = kinds[label]
            return by_kind["full"] + by_kind["clock"] + 0.3 * by_kind["day"], by_kind["full"] > by_kind["clock"]

        best = max(kinds, key=worth)
        if kinds[best]["clock"] > kinds[best]["full"]:
            days = [label for label in kinds if kinds[label]["day"] >= 0.5 * kinds[best].total()]
            return [*days[:1], best]
        return [best]

    def _sender_label(self) -> str:
        values: dict[str, list[str]] = defaultdict(list)
        firsts: Counter[str] = Counter()
        role: set[str] = set()
        for facts in self._facts:
            seen: set[str] = set()
            first = True
            for label, node in facts.nodes:
                size = self._marks.size.get(node, 0)
                if node in self._marks.times or not 0 < size <= SHORT or self._marks.count[node] or label in seen:
                    continue
                said = _name(text_of(node, self._marks.passed))
                if not said or size == self._marks.size[facts.node] - self._times_size(facts):
                    continue  # the only words there are
                seen.add(label)
                values[label].append(said)
                firsts[label] += first
                first = False
                if names_someone(node):
                    role.add(label)
        count = len(self._facts)

        def fits(label: str) -> bool:
            told = values[label]
            few = len(set(told)) <= max(2, 0.5 * len(told))
            return (
                few and len(told) >= 0.5 * count and firsts[label] >= 0.5 * len(told) and max(map(len, told)) <= SHORT
            )

        for labels in (role, [label for label in values if fits(label)]):
            if labels:
                return max(labels, key=lambda label: (len(values[label]), -len(set(values[label]))))
        return ""

    def _times_size(self, facts: _Facts) -> int:
        return sum(self._marks.size[node] for label, node in facts.nodes if label in self._times)

    def _text_label(self) -> str:
        """The label of the words by its class, where most elements have such a part."""
        counts: Counter[str] = Counter()
        for facts in self._facts:
            counts.update({
                label for label, node in facts.nodes
                if class_words(node) & _TEXTS and self._is_words(label, node)
            })  # fmt: skip
        wanted = 0.8 * len(self._facts)
        return next((label for label, count in counts.most_common(3) if count >= wanted), "")

    def _is_words(self, label: str, node: Node) -> bool:
        if node in self._marks.times or label == self._sender or not self._marks.size.get(node):
            return False
        return not any(map(names_someone, node.nodes))

    def score(self) -> float:
        """How many messages come of it. One whose time or name is shown elsewhere counts for less, one that holds
        several times for nothing and halves the worth of all: what is within it may be the messages."""
        total, whole = 0.0, 1.0
        for facts in self._facts:
            more = {f"{label.rpartition(' ')[0]} {n}" for label in self._times for n in (2, 3)} - set(self._times)
            if any(label in more for label, _ in facts.nodes):
                whole = 0.5
                continue
            for bubble in self._bubbles(facts):
                total += (1.0 if bubble.said else 0.3) * (1.0 if bubble.sender else 0.6)
        return total * whole

    def bubbles(self) -> Iterator[Bubble]:
        for facts in self._facts:
            yield from self._bubbles(facts)

    def _bubbles(self, facts: _Facts) -> Iterator[Bubble]:
        marks = self._marks
        times: dict[str, Node] = {}
        for label, node in facts.nodes:
            if label in self._times and node in marks.times:
                times.setdefault(label, node)
        named = next((node for label, node in facts.nodes if label == self._sender), None)
        sender = _name(text_of(named, marks.passed)) if named else ""
        every = [facts.node, *(node for _, node in facts.nodes)]
        sender = sender or next((_name(n.attrs[k]) for n in every for k in _SENDER_KEYS if n.attrs.get(k)), "")
        sender = sender or next((_name(n.attrs.get("alt", "")) for n in every if _is_face(n)), "")
        said = next((marks.own[node] for node in every if node in marks.own), "")
        if not said or (times and _kind(said) != "full"):
            said = " ".join(marks.times[times[label]] for label in self._times if label in times)
        apart = {*times.values(), *([named] if named else [])}
        sides = [*_above(facts.node), *(n for n in every if n not in times.values() and n is not named)]
        words = frozenset().union(*map(class_words, sides)) & (OUT | IN)
        taken = sum(marks.size[node] for node in (*times.values(), *([named] if named else [])))
        for number, part in enumerate(self._parts(facts, apart, taken)):
            photos = tuple(_photo(node) for node in part.all() if is_photo(node) and node not in marks.passed)
            text = text_of(part, marks.passed, apart).strip(" ·|") if part not in apart else ""
            text = text.removeprefix(":").strip() if named else text
            if text or photos:
                yield Bubble(part.number if number else facts.node.number, said, sender, text, photos, words)

    def _parts(self, facts: _Facts, apart: set[Node], taken: int) -> list[Node]:
        """The parts of an element that are a message each: all of it, unless the same bubble is there repeatedly.
        `taken`: the size of what is not words."""
        size = self._marks.size
        found: dict[str, list[Node]] = defaultdict(list)
        for label, node in facts.nodes:
            if node.tag not in _NEVER_APART and node not in apart and size.get(node):
                found[label].append(node)
        for label, nodes in found.items():
            kept = _outermost(nodes)
            if len(kept) < 2 or kept[0].up is not kept[1].up:
                continue
            if label == self._text or sum(size[node] for node in kept) >= size[facts.node] - taken:
                return kept
        texts = _outermost([node for label, node in facts.nodes if self._text == label and node not in apart])
        return texts if len(texts) == 1 else [facts.node]


def names_someone(node: Node) -> bool:
    """True where the element's class says that it holds a sender's name."""
    return bool(class_words(node) & _SENDERS) or node.attrs.get("itemprop") == "author"


def _is_face(node: Node) -> bool:
    return node.tag == "img" and bool(node.attrs.get("alt")) and not is_photo(node) and not is_sign(node)


def _kind(said: str) -> str:
    return page_times.kind_of(said) or "full"  # of an attribute


def _name(said: str) -> str:
    said = " ".join(said.split())
    return said.rstrip(": ,") if len(said) <= 2 * SHORT else ""


def _photo(node: Node) -> str:
    source = node.attrs.get("src", "")
    name = "" if source.startswith("data:") else source.partition("?")[0].replace("\\", "/").rpartition("/")[2]
    return name[:200] or "photo"
