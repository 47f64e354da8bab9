"""What can be said to the assistant: every ask and every act, the words that each goes by, and how it is best typed.

A head is a set of words that must all be there; `more` are others that belong to it. Words are as `talk_words` gives
them: `<day>`, `<count>`, `<money>`, `<who>` stand for what was named.
"""

from __future__ import annotations

from dataclasses import dataclass

ASK, ACT = "ask", "act"


@dataclass(frozen=True, slots=True)
class Known:
    """`asked` is whether it is a question: True only then, False never, None either way. `takes` names the slots that
    may be filled."""

    kind: str
    what: str
    says: str
    heads: tuple[str, ...]
    more: str = ""
    takes: str = ""
    asked: bool | None = None

    @property
    def words(self) -> frozenset[str]:
        """Every word that it goes by, its slots among them."""
        slots = (f"<{slot}>" for slot in self.takes.split())
        return frozenset((*" ".join(self.heads).split(), *self.more.split(), *slots))


_THINGS = "order cookies set batch job customer"


def _ask(what: str, says: str, *heads: str, more: str = "", takes: str = "", asked: bool | None = True) -> Known:
    return Known(ASK, what, says, heads, f"{more} {_THINGS} show what which who when", takes, asked)


def _act(what: str, says: str, *heads: str, more: str = "", takes: str = "who", asked: bool | None = False) -> Known:
    return Known(ACT, what, says, heads, f"{more} {_THINGS} please", takes, asked)


KNOWN: tuple[Known, ...] = (
    # Asks about the order in hand
    _ask("why", "why Saturday?", "why", more="know want wants need needs <day> <count> <money> price handover much think say says said field val say choose picked pick put guess",
         takes="day count money field", asked=None),
    _ask("paid", "has she paid?", "paid", "owes", "howmuch owes", "deposit paid", "balance", "howmuch left", "howmuch open", "paid full", "deposit",
         more="open howmuch money deposit balance left much still full way", takes="who"),
    _ask("earn", "what do I earn on it?", "earn", "howmuch earn", more="howmuch hour this", takes="who"),
    _ask("price", "how much is it?", "price", "howmuch", "quote", "howmuch price",
         more="much pay price quote come work she would charge they", takes="who count level"),
    _ask("before", "what did she order last year?", "before", "order <past>", "what <past>", "<past>", "order who what", "same before",
         "<who> order", more="ever first time same get buy usually had like new regular customer many howmany", takes="past who"),
    _ask("state", "is it booked?", "state", "answer", "confirm", more="back booked book confirm ready done drop paid price handed", takes="who"),
    _ask("open", "what's missing?", "openquestions", "openquestions still", more="still ask need left info details what", takes="who"),
    _ask("field", "what colours?", "<field>", more="kind said again say want wants need needs due like many much name supposed field which put ship "
         "pick goes having with long", takes="field who"),
    # Asks about the book
    _ask("due", "what's due this week?", "due", "booked", "rack", "order <day>", "howmany order", "what <day>", "<day>", "pickedup",
         "pickedup who", "show booked", "order show", "orders", more="else howmany up rack pickup pickedup next week order booked book due more lined",
         takes="day"),
    _ask("when", "when could I do 4 dozen?", "when <count>", "soon", "soon <count>", "when room", "when make", "when fit", "when can", "when could",
         more="be ready make fit another more room work bake finish squeeze next free could ship shipped parcel have take elaborate plain detailed done",
         takes="count level way day"),
    _ask("room", "is there room?", "room", "fit", "room <count>", "room <day>", "free <day>", "make <count>", "take <count>", "do <count>",
         "<count> <day>", "fit <count>", "take on",
         more="make take another more room fit free week for kitchen work any else squeeze still ship shipped on enough oven have",
         takes="count day level way who"),
    _ask("unpaid", "who hasn't paid?", "unpaid", "who owes", "unpaid who", "owes order", more="money me still yet deposit balance order howmuch",
         takes=""),
    _ask("todo", "what's left to do today?", "todo", "work <day>", "bake <day>", "todo <day>", "work", "first <day>",
         more="morning evening left still bake mix ice make decorate flood pack dough today on else", takes="day"),
    _ask("waiting", "who's waiting?", "waiting", "answer who", "write who", "new who", "message", more="new answer for me any message messages longest still customer",
         takes=""),
    _ask("next", "what's next?", "whatnext", "next", more="first", takes=""),
    _ask("takings", "how much did I make this month?", "takings", "how <past>", "earn <past>", "takings howmuch", "howmuch <past>", "earn <day>",
         more="howmuch how money much earn year month business go", takes="past day"),
    _ask("load", "how full is next week?", "load", "how <day>", "look <day>", "looking <day>", "full <day>", "busy <day>", more="full busy week day look looking how find", takes="day"),
    _ask("buy", "what do I need to buy?", "buy", more="need flour butter sugar eggs icing enough <day> list for ingredients", takes="day", asked=None),
    _ask("daysoff", "which days am I off?", "daysoff", "off", "block", more="day days next off blocked are", takes=""),
    _ask("help", "what can you do?", "help", more="say type how me can use", takes="", asked=None),
    _ask("last", "what did I just do?", "lastdone", takes=""),
    _ask("find", "find the unicorn order", asked=None),
    # Acts on the order in hand
    _act("price", "price it", "price", "quote", more="again anew make work out new"),
    _act("confirm", "confirm it", "confirm", more="everything all values slip good fields yes"),
    _act("book", "book it", "book", "booked", more="order all the same her in"),
    _act("drop", "drop it", "drop", more="whole"),
    _act("reopen", "bring it back", "reopen"),
    _act("paid", "she paid 36 cash", "paid", "<money>", "paid <money>", "paid deposit", "deposit", "paid full",
         more="full cash check card cheque transfer deposit balance rest half money today all by bank zelle app everything in",
         takes="money who"),
    _act("refund", "give her back 10", "refund", more="cash check card transfer bank all deposit", takes="money who"),
    _act("ready", "ready", "ready", "ready pickedup", "ready done", "done", more="done pickup all packed now"),
    _act("handed", "she picked it up", "handed", "pickedup", more="today now just"),
    _act("stepon", "next step", "stepon", more="go"),
    _act("accept", "take the change", "accept"),
    _act("refuse", "keep it as booked", "refuse", more="booked"),
    _act("aside", "set it aside", "aside"),
    # Words to a customer
    _act("ask", "ask her the flavour", "ask", "ask <field>", "ask question", "write question",
         more="question questions if whether what which about wants want would like likes prefer prefers should need needs "
         "know goes go is many kind exactly they're says write her when where who how she'd any", takes="field who", asked=None),
    _act("write", "write the quote", "write", "answer", "write quote", "write price", "write confirm", "write confirmation", "remind", "write reminder",
         "thanks_", "write answer", "write room", "write ready", "write deposit", "write receipt", "write change", "write thanks",
         "confirmation", "reminder", "write sent",
         more="quote price confirm confirmation reminder remind note mail message answer no room ready deposit receipt change "
         "cancelled cancellation thank thanks you full sent paid owes money about pay balance", takes="who"),
    # Days
    _act("off", "block next weekend", "off <day>", "block <day>", "off", "block", "off <day> work", "block <day> free", "vacation <day>", "holiday <day>",
         more="day days free clear open take taking mark off block whole vacation holiday no cookies bake need not", takes="day"),
    _act("on", "work on Saturday as usual", "unblock <day>", "unblock", "work <day>", "open <day>", "unblock work <day>",
         more="day days work working open bake usual not off block", takes="day"),
    _act("hours", "add hours Saturday 8am to 12pm", "<hours> <day>", "hours <day>", "hours <hours>", "work <hours>",
         more="work bake add extra more hours free also till", takes="day hours"),
    # The rest
    _act("undo", "undo", "undo", more="last change thing step again one", takes=""),
    _act("labels", "print the labels", "labels", more="print make write do need sheet", takes="who"),
    _act("sheet", "print today's sheet", "sheet", "print <day>", "sheet <day>", "print todo", more="print day make write s bench todo paper plan",
         takes="day"),
    _act("calendar", "write the calendar", "calendar", more="print make write file export update", takes=""),
    _act("open", "open Bea's order", "open <who>", "show <who>", "go <who>", "open", "<who>", more="show conversation thread go me find pull",
         takes="who", asked=None),
    _act("nextone", "next one", "nextone", "next", "next customer", more="one go message", takes=""),
    _act("go", "go to the rack", "rack", "bench", "till", "counter", "show rack", "show bench", "show till", "open till", "open bench", "open rack",
         more="go show open screen", takes=""),
    _act("settle", "make it elaborate"),
)  # fmt: skip

ASKS = tuple(dict.fromkeys(known.what for known in KNOWN if known.kind == ASK))
ACTS = tuple(dict.fromkeys(known.what for known in KNOWN if known.kind == ACT))
#: Every word that anything goes by: what another is respelt to.
VOCABULARY = tuple(sorted({w for known in KNOWN for w in known.words if w.isalpha() and len(w) > 2}))
