"""What the customer's last message is: an order, a change, a yes, a payment, a question, chat, or spam."""

from __future__ import annotations

import re
from collections.abc import Sequence

from intake.model import Cell
from intake.reading import cues
from intake.reading.found import Found

_SPAM = re.compile(
    r"(?:\bdear (?:business|valued|merchant|owner)|hi business owner|followers|seo\b|rank(?:ing)? (?:your|higher)|invoice #|domain (?:listing|registration|name)|lock your price|crypto|bitcoin|loan|grow your (?:business|page|sales)|web(?:site)? (?:design|traffic)|automated notice|unsubscribe|winner|claim your|gift card code|limited offer"
    r"|marketing (?:agency|services)|guest post|backlinks?|click (?:here|the link)|verify your account|act now|lead generation|boost your|page one|guarantee(?:d)?\b[^.!?]{0,30}\b(?:orders|back|bookings)|(?:\d+|new) (?:new )?orders (?:by|in|within)|packages? (?:start|from)|will be (?:removed|disabled|suspended)|verify\b|confirm your (?:account|details)|reply yes)"
)
_CANCEL = re.compile(
    r"\b(?:cancel (?:them|those|these|the|that|it|my|our|order|please|everything|both|b\b|a\b)|to cancel\b|take (?:us|me) off (?:your|the)|drop (?:our|my) (?:cookies|order)|(?:shower|party|wedding|event|reunion|dinner|picnic|bbq|brunch)(?: is|'?s| has been| been)? (?:called )?off\b|(?:have to|need to|gotta|got to|want to|going to have to|must|please|can (?:you|u|we|i)|could (?:you|we)|i'?d like to|we'?ll have to|should) cancel|cancel(?:l?ing|l?ed)? (?:the|my|our|that|this|it|b\b|a\b|order|everything|everythin)|call(?:ing)? (?:this|it|the \w+) (?:one )?off|don'?t need (?:the|them|cookies|any) (?:cookies )?any ?more|no longer need|won'?t (?:be )?need(?:ing)?|scrap the (?:order|whole)|party'?s? (?:is )?(?:off|cancelled|canceled)|cancelar|ya no (?:voy|vamos|necesito|quiero)|forget the (?:order|cookies))\b"
)
_UNCANCEL = re.compile(
    r"\bback on\b|un-?cancel|\b(?:wait,? (?:don'?t|dont)|don'?t|dont|do not|un-?|no need to) ?cancel|back on\b|un-?cancel|still (?:want|on)\b.*\bafter all|changed my mind.*keep|keep it (?:all )?(?:the same|on)\b"
)
_PAID = re.compile(
    r"(?:^|\b)(?:i(?:'ve| have)? (?:just )?(?:sent|paid|transferred|wired|dropped off)|just (?:sent|paid)|sent (?:the |you |u |it|over |half|\$|£|€|\d|full|deposit|payment|money|my)|paid\b(?!\s+(?:by|for by|attention))|payment (?:sent|is sent|made|went through)|deposit (?:sent|is sent|paid|is in|done)|money(?:'s| is)? (?:sent|on its way|in)|ya (?:te )?(?:pagu[eé]|mand[eé]|deposit[eé]|transfer[ií])|(?:te )?mand[eé] el (?:pago|dep[oó]sito)|transfer(?:red|encia hecha)|hice la transferencia|deposit[eé]\b|have (?:sent|transferred|paid))"
)
_WILL_PAY = re.compile(
    r"\b(?:will|'ll|ill|gonna|going to|can i|how (?:do|can|should) i|should i|when do i|where do i|tmrw|tomorrow)\b[^.!?]{0,24}\b(?:send|pay|transfer)|\bhow (?:much )?do i owe"
)
_THANKS = re.compile(
    r"\b(?:thank(?:s| you)?|thx|ty|gracias|appreciate|you'?re the best|loved? (?:them|it)|perfect!*$|so (?:good|cute|talented)|hit of|a hit|amazing|delicious|best (?:party|cookies)|see (?:you|u) (?:then|there|soon))\b"
)
_SHOPPING = re.compile(
    r"\b(?:just (?:shopping|looking|curious|wondering|checking|asking|comparing|pricing(?: things)?(?: out| up)?)|pricing things|asking before|before we plan|might do something|shopping around|not (?:booking|ordering|ready to|committed)|nothing decided|comparing|collecting quotes|getting quotes|before (?:i|we) (?:commit|decide|book)|b4 i commit|ballpark|es para ver|solo pregunto|just a question|quick q|no clue what)\b"
)
_PRICE_Q = re.compile(
    r"\b(?:how much|price|prices|pricing|cost|rates?|quote|minimum|do (?:you|u) (?:ship|deliver|make|do|have|take|offer|freeze)|turnaround|how far (?:ahead|in advance)|lead time|books? open|openings?|available|availability|cu[aá]nto (?:cuesta|sale|cobra)|hacen|freeze|ingredients|what'?s in|flavou?rs (?:do|are))\b"
)
_CHANGE = re.compile(
    r"\b(?:actually|instead|change|changed|switch|make (?:it|that|them)|can (?:we|you|u|i) (?:do|make|add|change|switch|get|have|bump|swap)|could (?:we|you) (?:do|make|add|change|switch|swap)|scratch|back to|bump|one more thing|also|add|mejor|too early|too late|wait|turns out|oh!|not \d|forgot|correction|sorry|now\b|swap|no longer|drop the|without|just found out|can'?t make it)\b"
)
_ORDERING = re.compile(
    r"\b(?:may i (?:send|order|have)|supply|obliged|be glad of|(?:i|we)(?:'d| would) love|me interesan?|in charge of|kindly (?:book|make|send)|please book|i'?d like|i would like|we'?d like|we would like|i need|we need|need\b|can i (?:get|order|have)|could i (?:get|order|have)|can we (?:get|order)|could (?:you|we) (?:make|do|order|get)|can (?:you|u) (?:make|do)|would you make|i want|want\b|wanting|looking for|looking to order|like to order|place an order|order\b|please (?:ship|make)|quisiera|necesito|ocupo|me gustar[ií]a|quiero|pedir|thinking|interested in|planning|we should like|any chance of|got time for|have time for|room)\b"
)


def settle(found: Sequence[Found], has_order: bool, changed: frozenset[str], new: frozenset[str]) -> Cell[str]:
    """The intent of the last customer turn. `changed` and `new` are the fields that it altered or added."""
    turns = [f for f in found if not f.turn.mine and f.turn.bare and f.turn.kind == "said"]
    if not turns:
        return Cell("chat", False, (), "nothing to read but a picture or an empty message", rule="no words")
    last = turns[-1]
    low, bare = last.turn.low, last.turn.bare
    earlier = [f for f in found if f.turn.index < last.turn.index]
    answered = any(f.turn.mine for f in earlier)
    first = all(f.turn.mine or f.turn.message == last.turn.message for f in earlier) or not answered

    def cell(value: str, rule: str, sure: bool = True, why: str = "") -> Cell[str]:
        return Cell(value, sure, (last.turn.evidence(*_whole(low)),), why, rule=rule)

    if (
        _SPAM.search(low)
        and not _ORDERING.search(re.sub(r"order (?:today|now)|need to|we need", " ", low))
        and not answered
    ):
        return cell("spam", "words of an advertisement")
    if _UNCANCEL.search(low):
        return cell("change", "a cancellation taken back")
    if _CANCEL.search(low):
        return cell("cancel", "a cancellation")
    if _PAID.search(low) and not _WILL_PAY.search(low):
        return cell("paid", "money was sent")
    if (
        re.search(r"\b(?:i need nothing|don'?t need anything|just (?:wanted|want) to say|wrong number)\b", low)
        or _wrong_person(found)
        or (_chatty(low) and not last.turn.asked)
    ):
        return cell("chat", "talk, no order")
    if not answered and _SHOPPING.search(low):
        return cell("ask", "asks around, no order yet")
    if (
        re.search(
            r"\b(?:we|i) accept\b|\bconfirmed\b|\baccepted\b|\bplease (?:do|go ahead)\b|\b(?:great|ok|okay|perfect|yes|yep),? (?:please )?book (?:it|us|me)\b",
            low,
        )
        and answered
    ):
        return cell("confirm", "accepts")
    if not has_order:
        if "?" in low or _PRICE_Q.search(low) or _SHOPPING.search(low):
            if _chatty(low):
                return cell("chat", "talk, no order")
            return cell("ask", "a question, no order")
        return cell("chat", "talk, no order", bool(_THANKS.search(low)) or True)
    if first:
        return cell("order", "asks for cookies")
    previous = next((f for f in reversed(earlier) if f.turn.mine), None)
    asked = bool(last.turn.asked)
    summary = previous is not None and _summary(previous)
    yes = cues.YES.search(bare) is not None
    if summary and re.search(
        r"\bnot \d|^\W*(?:nearly|almost|close)\b|, not [a-z]|\bno le\b|\btoo (?:early|late)\b|^\W*(?:no\b|its? (?:\w+ )?not|it'?s \d)|\bwrong\b",
        bare,
    ):
        return cell("change", "corrects the summary")
    if yes and summary and not changed:
        return cell("confirm", "a yes to a summary or a quote")
    if (
        re.search(
            r"\b(?:confirmed|we accept|i accept|book it|go ahead|all of that is right|that'?s (?:right|correct))\b", low
        )
        and not changed
    ):
        return cell("confirm", "accepts")
    if changed and not (asked and not _CHANGE.search(low)):
        return cell("change", "alters what was given")
    if (
        new
        and (asked or not _CHANGE.search(low))
        and not (previous is not None and _closed(previous) and _CHANGE.search(low))
    ):
        return cell("order", "adds what was missing")
    if new and _CHANGE.search(low):
        return cell("change", "adds after it was agreed")
    if "?" in low and not asked:
        return cell("ask", "a question after an order")
    if _THANKS.search(low) and not new:
        return cell("chat", "thanks")
    if "?" in low and _PRICE_Q.search(low):
        return cell("ask", "a question after an order")
    if asked:
        return cell("order", "answers what was asked")
    return cell("chat", "talk after an order", False, "a message that changes nothing")


def _whole(low: str) -> tuple[int, int]:
    stripped = low.strip()
    start = low.index(stripped) if stripped else 0
    return start, start + len(stripped)


def _summary(f: Found) -> bool:
    """Whether the baker's turn states the order or a price to be said yes to."""
    low = f.turn.low
    facts = (
        len(f.dates)
        + len([q for q in f.quantities if q.role in ("total", "cookies", "dozens")])
        + ("$" in low or "£" in low)
    )
    return (facts >= 2 and ("?" in low or "$" in low or "so:" in low)) or bool(
        re.search(
            r"\b(?:is that right|sound(?:s)? good|all (?:good|correct|right)|shall i (?:put|book)|correct\?|good\?|does that work)\b",
            low,
        )
    )


def _closed(f: Found) -> bool:
    """Whether the baker's turn takes the order as agreed."""
    return (
        not f.turn.asked
        and "?" not in f.turn.low
        and bool(
            re.search(
                r"\b(?:got (?:it|you)|on the (?:calendar|list|books)|written down|all set|done|see you|perfect|anotado|you'?re (?:down|set|on|all)|it'?s a date|wonderful|great|booked|yes|of course|no worries|both on)\b",
                f.turn.low,
            )
        )
    )


_SOCIAL = re.compile(
    r"\b(?:wrong (?:number|person|chat)|my bad|happy (?:new year|belated|birthday)|merry christmas|miss (?:you|u)|love (?:you|u|grand\w+|aunt\w*|mom|dad)"
    r"|see (?:you|u) (?:there|soon|tomorrow)|we still on|running late)\b"
)
BAKERY = re.compile(r"\b(?:cookies?|biscuits?|galletas?|dozen|doz|dz)\b")


def _chatty(low: str) -> bool:
    """Words between people who know each other, and nothing of baking or its price."""
    return bool(_SOCIAL.search(low)) and not BAKERY.search(low) and not _PRICE_Q.search(low)


def _wrong_person(found: Sequence[Found]) -> bool:
    """Whether the baker told the writer that he meant somebody else."""
    return any(f.turn.mine and re.search(r"\bwrong (?:number|person)\b", f.turn.low) for f in found)
