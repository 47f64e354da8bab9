"""What the customer's last message is: an order, a change, a yes, a payment, a question, chat, or spam."""

from __future__ import annotations

import re
from collections.abc import Sequence

from intake.model import Cell
from intake.reading import cues
from intake.reading.day_roles import unclaimed
from intake.reading.found import Found

_SPAM = re.compile(
    r"(?:\bdear (?:business|valued|merchant|owner|friend,? we|bakery owner)|hi business owner|followers|seo\b|rank(?:ing)? (?:your|higher)|your ranking|invoice #|domain (?:listing|registration|name)|lock your price|crypto|bitcoin|loan|grow your (?:business|page|sales)|web(?:site)? (?:design|traffic)|visited your (?:web)?site|automated notice|unsubscribe|winner|claim your|click to claim|gift card code|limited offer|this offer|offer (?:ends|closes|expires)"
    r"|marketing (?:agency|services)|guest post|backlinks?|click (?:here|the link)|verify your account|act now|lead generation|boost your|page one|guarantee(?:d)?\b[^.!?]{0,30}\b(?:orders|back|bookings)|(?:\d+|new) (?:new )?orders (?:by|in|within|a week|per week)|packages? (?:start|from)|will be (?:removed|disabled|suspended)|verify\b|confirm your (?:account|details)|reply (?:yes|stop|info)\b|working capital|pre-?approved|credit check|we help (?:bakeries|businesses|bakers|small)|bakeries like yours|on autopilot|free (?:video|report|sample|quote|trial|consultation|demo)|hello owner|found \d+ errors|design websites|reviewing your (?:web)?site|off page 1|reply remove|trust us\b|greetings of the day|moq\b|money back|\d+% off|our experts|top \d in your|not showing (?:up )?on|five star reviews|opt out|ambassadors?\b|starter kit|wire transfer fee|bank details|remit \$|final notice|schedule a new delivery|sin bur[oó]|pr[eé]stamos|(?:we are|our) (?:a )?(?:factory|manufactur\w+|supplier)|catalog(?:ue)? with|best price|preaprobam\w+|revisar cr[eé]dito|su bono|estimado negocio|\d+ (?:panader[ií]as|negocios|shops|bakeries)\b)"
)
_CANCEL = re.compile(
    r"\b(?:cancel (?:them|those|these|the|that|it|my|our|order|please|everything|both|b\b|a\b|[a-z]+'?s? (?:cookies|order))|to cancel\b|take (?:us|me) off (?:your|the)|(?:drop|scrap|withdraw|nix|kill|pull) (?:our|my|the|that|this) (?:cookies|order|whole|[a-z]+ order|order below)|(?:shower|party|wedding|event|reunion|dinner|picnic|bbq|brunch|luau|shindig|trip)(?: is|'?s| has been| been)? (?:all |totally )?(?:called )?off\b|(?:have to|need to|gotta|got to|want to|going to have to|must|please|can (?:you|u|we|i)|could (?:you|we)|i'?d like to|we'?ll have to|should) cancel|cancel(?:l?ing|l?ed)? (?:the|my|our|that|this|it|b\b|a\b|order|everything|everythin)|call(?:ing)? (?:this|it|the (?:\w+ ){1,3}?|everything|things) ?(?:one )?off|don'?t need (?:the|them|cookies|any) (?:cookies )?any ?more|no longer need|won'?t (?:be )?need(?:ing)?|party'?s? (?:is )?(?:off|cancelled|canceled)|cancelar\w*|canc[eé]la\w+|ya no (?:voy|vamos|necesito|quiero)|forget the (?:order|cookies)|(?:nvm|never ?mind) (?:on |about )?the (?:order|cookies)|pull(?:ing)? out (?:on|of) the|back out (?:on|of)|count (?:us|me) out|take (?:my|our|the) (?:\w+ )?off (?:your|the)|whole thing(?:'?s| is) off\b|(?:there'?s|theres|there is|there isn'?t going to be|there won'?t be) (?:no|any|a) (?:\w+ )?(?:party|shower|wedding|event|banquet)|(?:bin|void|axe|strike|scratch|scrub|kill|nix|cancle|cancell?) (?:mine|ours|(?:my|our|the|those|these)(?= (?:order|cookies|biscuits|lot|set|[a-z]+s\b(?<!words)(?<!names)(?<!colors)(?<!colours))))\b(?! (?:names?|words?|writing|lettering|text|colou?rs?|pink|red|blue|green|idea of|thing about))|\boff for good\b|take (?:us|me|mine|ours) off\b|pass on (?:those|them|the|it|this)\b|(?:give|offer|release) (?:my|our|the) (?:slot|spot|date|place)|(?:please )?(?:don'?t|do not) (?:make|bake|go ahead with) (?:them|it|those|these|the [a-z]+)\b(?! (?:too|so|as|with|until|till|before|any)| \w+ (?:too|so)|(?:them|it) (?:too|so|as|with|until|till|before)| the \w+ (?:too|so|as)| any (?:too|with))|(?:shelved|scrapped|abandoned|axed) (?:the|our|my|it|everything)\b|not (?:be )?(?:going ahead|happening|going through)|won'?t be (?:going ahead|happening)|isn'?t happening|fell through|shut its doors|not going to (?:need|be needing)|skip the (?:order|cookies))\b|^\W*(?:please )?(?:drop|skip|lose|forget) the \w+,? (?:and )?keep the\b"
)
_UNCANCEL = re.compile(
    r"\bback on\b|un-?cancel|\b(?:wait,? (?:don'?t|dont)|don'?t|dont|do not|un-?|no need to) ?cancel|back on\b|still (?:want|on)\b.*\bafter all|changed my mind.*keep|keep it (?:all )?(?:the same|on)\b|\btake (?:it|that) back\b|\bkeep us on\b|\bput (?:us|me|it) back\b|\bforget (?:i|what i) said\b|\bback in business\b|\bignore (?:that|my|what|the) (?:last|cancel\w*|message|i said|cancellation)\b|\bput (?:them|those|that|everything) back\b|\bafter all\b.*\b(?:still want|want (?:it|them)|please make|keep (?:us|me|it on))\b|\bun-?do that cancel"
)
_MONEY_WORD = r"(?:deposit|payment|money|balance|check|cheque|cash|the (?:\$?\d+|whole (?:thing|amount)|full amount|rest|half|other half|total|funds)|half|full|everything i owe|[a-z]+(?:[ -][a-z]+)? (?:dollars|bucks|euros|pounds)|[$£€]\s?\d+|\d+(?:\.\d\d)?(?: bucks| dollars|(?=\s*(?:$|[.,!?;\n]|just|now|today|over|this|for the deposit|in full|yesterday|as\b)))|el (?:pago|dep[oó]sito|anticipo))"
_PAID = re.compile(
    rf"\b(?:sent|paid|transferred|wired|mailed|posted|shot|zapped|pushed|dropped|put|e-?transferred)(?: (?:you|u|ya|over|it|in|off|out|through|the|a|my|your|way))*? {_MONEY_WORD}\b|\b(?:i(?:'ve| have)?|we(?:'ve| have)?) (?:just )?(?:paid|transferred|wired)\b(?! by)|\bjust (?:paid|transferred)\b|\bsent (?:payment|it over|it thru|it through|ya the|u the|you the)"
    rf"|\b(?:the )?\d+(?:\.\d\d)? (?:should|is|'?s) (?:be )?(?:in your|on (?:its|the|your|ur)|with you|there)\b|\b(?!\d){_MONEY_WORD}(?:'?s| is| are| has| have| should| was)? ?(?:be |been |just |now |already )*(?:went (?:thr(?:ough|u)|out|over)|came out|cleared|has gone|left (?:my|our)|on (?:its|the|it'?s) way|sent|in your|on (?:your|ur) end|paid|done|through|transferred|in ur|with you|there now)\b|(?<![\w.])[$£€]?\d+(?:\.\d\d)? (?:sent|paid|transferred)\b|\btransfer (?:of |for )?\S+ (?:is |was )?(?:done|made|sent)\b|\bpayment (?:made|went through|is made)|(?:^|\b)paid\b(?!\s+(?:by|for by|attention|back))|\bya (?:te |le )?(?:pagu[eé]|mand[eé]|deposit[eé]|transfer[ií])|(?:te |le )?mand[eé] el (?:pago|dep[oó]sito)|transferencia hecha|hice la transferencia|\bdeposit[eé]\b|\bdropped (?:the |a )?(?:check|cheque|cash|envelope)|(?<![\w.])[$£€]\d+(?:\.\d\d)? (?:has |have |is |just |should (?:be |have )|now )*(?:gone|went|headed|heading|on its way|coming your way|winging|zipped|landed|left) ?(?:over|across|out|through|thru|your way|to you|my account|our account)?\b|\byou should (?:see|have|find) (?:the )?(?:[$£€]?\d+(?:\.\d\d)?|deposit|payment|money|it in your)\b|\b(?:the |your |my )?(?:half|deposit|balance|payment|wire|transfer|check|cheque|money|full amount|funds)(?: for \S+| of \S+)?(?:\'s| is| has| have)? (?:just |now |all |been )*(?:gone (?:over|across|out|through)|settled|squared|taken care of|in the mail|in the post|sorted|left|dropped|✅|handled|headed|on the way)|\b(?:receipt|confirmation|screenshot) (?:from|of|for) (?:the|my|our) (?:transfer|payment|deposit|bank)|\b(?:gave|handed|slipped|left|popped|passed) (?:[\w\']+ ){0,5}(?:cash|check|cheque|envelope|money|[$£€]\d+)|\bsettled (?:up|the|our|my)\b|\b(?:ya|acabo de|acabamos de) (?:(?:te|le) )?(?:transfir\w+|deposit\w+|pag\w+|mand\w+ (?:el|la|los))|\b(?:tapped|clicked|used) (?:it|the link)[^.!?]{0,20}\b(?:went|gone|through|thru)"
)
_WILL_PAY = re.compile(
    r"\b(?:will|'ll|ill|gonna|going to|can i|how (?:do|can|should) i|should i|when do i|where do i|tmrw|tomorrow|want me to|need to|have to)\b[^.!?]{0,24}\b(?:send|pay|transfer)|\bhow (?:much )?do i owe|\bwhatever (?:i|we) have paid"
)
_THANKS = re.compile(
    r"\b(?:thank(?:s| you)?|thx|ty|gracias|appreciate|you'?re the best|loved? (?:them|it)|perfect!*$|so (?:good|cute|talented)|hit of|a hit|amazing|delicious|best (?:party|cookies)|see (?:you|u) (?:then|there|soon))\b"
)
_SHOPPING = re.compile(
    r"\b(?:(?:not|n'?t|never) (?:be )?(?:committing|ordering|commit|deciding|buying)\b|sounding (?:people|folks|you|bakers) out|(?:a few|some|getting|gathering) quotes|(?:partner|wife|husband|boss|committee|board|sister|mom|mum) (?:has to|must|needs to|won'?t) (?:weigh in|hear of|agree|approve|sign off|ok it|decide)|or (?:i |we )?might not\b|(?:isn'?t|is not|not) (?:an|placing an|a firm|placing any) order|inquiry only|enquiry only|just (?:wants?|need|after|getting|seeing|trying to get) (?:a |an )?(?:figure|price|number|quote|idea|estimate|ballpark|what|sense)|(?:don'?t|do not|no need to|please don'?t)(?: please)? (?:hold|pencil|book|save|reserve|put)(?: a date| me| us| it| anything)|pric(?:ing|e) (?:it|this|things?) (?:up|out)|other (?:bakers|bakeries|quotes)|(?:gather|collect|get)(?:ing)? (?:\w+ )?(?:prices|quotes|figures)|to vote on|get a figure|may skip it|just askin\w*|just (?:me )?being (?:nosy|curious)|nothing planned|nothing to book|won'?t book anything|what would (?:that|it|a dozen|those) (?:run|set)|(?:usually|normally|typically) (?:run|cost|charge|go for)|what (?:an? |\d+ )(?:[\w'-]+ ){0,8}?(?:goes|go|runs?|costs?|comes? to)\b|no date (?:picked|set|yet)|seeing what(?: all)?(?:'s| is) out|just (?:shopping|looking|curious|wondering|checking|asking|comparing|pricing(?: things)?(?: out| up)?)|pricing things|asking before|before we plan|might do something|shopping around|not (?:booking|ordering|ready to|committed)|nothing decided|comparing|collecting quotes|getting quotes|before (?:i|we) (?:commit|decide|book)|b4 i commit|ballpark|es para ver|(?:solo|s[oó]lo|nom[aá]s|nada m[aá]s) (?:pregunto|es para|quiero saber|quer[ií]a saber|quer[ií]a preguntar|quiero preguntar|para saber)|una (?:pregunt\w+|duda|consulta)|just wan(?:t(?:ed)?|na) to know|just a question|quick q|no clue what)\b"
)
_PRICE_Q = re.compile(
    r"\b(?:how much|price|prices|pricing|cost|rates?|quote|minimum|do (?:you|u) (?:ship|deliver|make|do|have|take|offer|freeze)|turnaround|how far (?:ahead|in advance)|lead time|books? open|openings?|available|availability|cu[aá]nto (?:cuesta|sale|cobra)|hacen|freeze|ingredients|what'?s in|flavou?rs (?:do|are))\b"
)
#: Words by which what was said before is set right.
_CORRECTS = re.compile(
    r"\b(?:one|two|2|three|just|a few|small|little|quick|couple of) (?:\w+ )?(?:corrections?|fixes|amendments?|adjustments?|changes|tweaks?)\b|^\W*(?:not|a\.m\.|p\.m\.) |^\W*(?:oh (?:dear|no),? )?(?:nearly|almost|close|correction|oops|whoops|wait|hang on|hold on|no (?:sir|ma'?am|wait)|not quite|one (?:fix|change|correction|thing off)|scratch that|my mistake)\b|\bnot \d|, not [a-z]|\bno le\b|\btoo (?:early|late)\b|^\W*(?:its? (?:\w+ )?not|it'?s \d|no[,.]? (?:it|that|we|i|the|red|not)\b)|\bwrong\b|\bi meant\b|\b(?:its|it'?s) [\w ]{1,24}\bnot\b|\bnot [A-Za-z]+,? (?:it'?s|its)\b|\btypo\b|\bthere'?s no \d|\bwas (?:supposed|meant) to be\b|\bwould be better than\b"
)
_CHANGE = re.compile(
    r"\b(?:actually|instead|change|changed|switch|make (?:it|that|them)|can (?:we|you|u|i) (?:do|make|add|change|switch|get|have|bump|swap)|could (?:we|you) (?:do|make|add|change|switch|swap)|scratch|back to|bump|one more thing|also|add|mejor|too early|too late|wait|turns out|oh!|not \d|forgot|correction|sorry|now\b|swap|no longer|drop the|without|just found out|can'?t make it)\b"
)
_ORDERING = re.compile(
    r"\b(?:pencil (?:us|me) in|may i (?:send|order|have)|supply|obliged|be glad of|(?:i|we)(?:'d| would) love|me interesan?|in charge of|kindly (?:book|make|send)|please book|i'?d like|i would like|we'?d like|we would like|i need|we need|need\b|can i (?:get|order|have)|could i (?:get|order|have)|can we (?:get|order)|could (?:you|we) (?:make|do|order|get)|can (?:you|u) (?:make|do)|would you make|i want|want\b|wanting|looking for|looking to order|like to order|place an order|order\b|please (?:ship|make)|quisiera|necesito|ocupo|me gustar[ií]a|quiero|pedir|thinking|interested in|planning|we should like|any chance of|got time for|have time for|room)\b"
)


def says_paid(low: str) -> bool:
    """Whether a customer says, in small letters, that money has been sent; what she is going to pay is none."""
    return bool(_PAID.search(low)) and not _WILL_PAY.search(low)


_SENT = re.compile(
    r"\b(?:gone|went|sent|headed|heading|popped|gave|given|dropped|handed|slipped|transfer\w*|wired?|mailed|posted|landed|settled|you should (?:see|have)|on its way|in the (?:mail|post)|in your account|receipt|paid)\b"
)


def _names_the_sum(low: str, earlier: Sequence[Found]) -> bool:
    """Whether a message tells of the very sum that the baker has asked for as gone: "popped 44 through your letterbox"."""
    asked = next((f.turn.low for f in reversed(earlier) if f.turn.mine), "")
    sums = {m[1] for m in re.finditer(r"[$£€]\s?(\d+(?:\.\d\d)?)", asked)}
    named = any(re.search(rf"(?<![\d.:/]){re.escape(s)}(?![\d:/%])", low) for s in sums)
    return named and _SENT.search(low) is not None and "?" not in low and not _WILL_PAY.search(low)


def settle(found: Sequence[Found], has_order: bool, changed: frozenset[str], new: frozenset[str]) -> Cell[str]:
    """The intent of the last customer turn. `changed` and `new` are the fields that it altered or added."""
    turns = [f for f in found if not f.turn.mine and f.turn.bare and f.turn.kind == "said"]
    if not turns:
        return Cell("chat", False, (), "nothing to read but a picture or an empty message", rule="no words")
    last = turns[-1]
    # What is to be piped says nothing of what is meant: "PAID IN PIZZA on one of them".
    low = unclaimed(last)
    bare = " ".join(low.split()) or last.turn.bare
    earlier = [f for f in found if f.turn.index < last.turn.index]
    answered = any(f.turn.mine for f in earlier)
    first = all(f.turn.mine or f.turn.message == last.turn.message for f in earlier) or not answered

    def cell(value: str, rule: str, sure: bool = True, why: str = "") -> Cell[str]:
        return Cell(value, sure, (last.turn.evidence(*_whole(low)),), why, rule=rule)

    if len({m[0] for m in _SPAM.finditer(low)}) > 1 and not answered:
        return cell("spam", "words of an advertisement")
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
    if says_paid(low) or _names_the_sum(low, earlier):
        return cell("paid", "money was sent")
    if (
        re.search(r"\b(?:i need nothing|don'?t need anything|just (?:wanted|want) to say|wrong number)\b", low)
        or _wrong_person(found)
        or (_chatty(low) and not last.turn.asked)
    ):
        return cell("chat", "talk, no order")
    if not answered and _SHOPPING.search(low):
        return cell("ask", "asks around, no order yet")
    if not answered and _told_of_past(low) and not _ORDERING.search(low):
        return cell("ask" if "?" in low else "chat", "a question, no order" if "?" in low else "talk, no order")
    previous = next((f for f in reversed(earlier) if f.turn.mine), None)
    summary = previous is not None and _summary(previous)
    told = previous is not None and re.search(r"[$£€]\s?\d|\b\d+ (?:dollars|bucks|euros|pounds|pesos)\b", previous.turn.low) is not None
    corrects = _CORRECTS.search(bare) is not None
    accepts = cues.ACCEPTS.search(low) is not None
    yes = cues.YES.search(bare) is not None or re.match(r"\W*(?:ooh?|aw+|oh|pen)\W", bare) is not None
    if answered and accepts and not corrects and (summary or told or not changed) and not _asks_on(low):
        return cell("confirm", "accepts")
    if not has_order and not answered and not _TRADE.search(low):
        return cell("chat", "nothing of baking in it")
    if not has_order:
        if "?" in low or _PRICE_Q.search(low) or _SHOPPING.search(low) or _ASKING.search(low):
            if _chatty(low):
                return cell("chat", "talk, no order")
            return cell("ask", "a question, no order")
        return cell("chat", "talk, no order", bool(_THANKS.search(low)) or True)
    if first and _TO_WHAT_WAS_SENT.search(low):
        return cell("change", "alters what was sent before")
    if first:
        return cell("order", "asks for cookies")
    asked = bool(last.turn.asked)
    if corrects and (summary or previous is not None) and not (asked and not summary and not changed):
        return cell("change", "corrects the summary" if summary else "sets right what was said")
    if yes and (summary or told) and not changed and not _asks_on(low):
        return cell("confirm", "a yes to a summary or a quote")
    if changed and not (asked and not _CHANGE.search(low)):
        return cell("change", "alters what was given")
    question = low.strip().endswith("?") or re.match(r"\W*(?:can i|do i|should i|is there|is it|are you|where|how|what|will|does|do they|do these)\b", bare)
    pure = question and not (last.dates or last.quantities or any(m for kind, m in last.mentions.items() if kind != "address"))
    if pure and not changed:
        return cell("ask", "a question after an order")
    if new:
        return cell("order", "adds what was missing")
    if _ALTERS.search(low) and not asked:
        return cell("change", "alters what was given", False, "a change that I can't place: look")
    if "?" in low and not asked:
        return cell("ask", "a question after an order")
    if asked and (yes or cues.NO.search(bare) or not _THANKS.search(low)):
        return cell("order", "answers what was asked")
    if (summary or told) and "?" not in low and not changed and not _asks_on(low) and len(bare.split()) <= 9 and not _ONLY_THANKS.fullmatch(bare):
        return cell("confirm", "a short word on a quote", False, "a short answer to a quote: a yes?")
    if not asked and _asks_on(low):
        return cell("ask", "a question after an order")
    if _THANKS.search(low):
        return cell("chat", "thanks")
    if "?" in low and _PRICE_Q.search(low):
        return cell("ask", "a question after an order")
    return cell("chat", "talk after an order", False, "a message that changes nothing")


#: A first message that alters an order sent another way.
_TO_WHAT_WAS_SENT = re.compile(
    r"\b(?:adjustments?|changes?|corrections?|amendments?|tweaks?) to (?:(?:what|the \w+|the one) (?:i|we) (?:sent|gave|ordered|asked|wrote|placed)|(?:my|our) (?:\w+ )?order\b)"
)
#: A request to alter something, whatever it is.
_ALTERS = re.compile(
    r"\b(?:can (?:we|you|u|i) (?:change|switch|swap|drop|skip|leave out|stretch|move|push|make)|(?:could|might|may) (?:we|you|i) (?:change|switch|swap|drop|skip|leave out|stretch|move|push|make)|(?:you can )?skip the|never ?mind the|leave out|instead of|change of plans?|turns out|correction|actually)\b"
)
_ASKING = re.compile(r"\b(?:do|does|can|could|would) (?:you|u|ya|y'?all)\b|^\W*(?:u|you) (?:ship|deliver|do|make|take)\b|\bor nah\b|\bjust ask\w*")
_EATEN = re.compile(
    r"\b(?:did(?:n'?t| not) (?:even )?(?:make it|last)|not a crumb|every last|out ?done yourself|(?:picked up|got|received|ate|opened) (?:our|my|the|them|those)\b[^.!?]{0,40}\b(?:yesterday|last night|today|this morning|already|last week\w*)|(?:les|nos|me) encantaron|a todos les encant\w+|bless you|who made (?:em|them|those)|teared up|made the (?:drive|trip)|gone (?:in|by|within)|everybody (?:raved|loved)|everyone (?:raved|loved|was asking)|still (?:eating|talking about)|were a hit|made her day|vanished|you made [\w' ]{0,12}day\b|still (?:thinking|dreaming) about those|made (?:my|our|the) [\w ]{1,24} cry|put away \d+|licked the icing|had (?:my|our|the) whole [\w ]{1,20} in tears|you'?re a marvel|mil gracias por las galletas|icing up his nose|guarding the last)\b"
)


def _told_of_past(low: str) -> bool:
    """Whether a first message tells of cookies that were had, and asks for none."""
    return _EATEN.search(low) is not None and not re.search(r"\bthis (?:year|time)\b|\bagain\b|\banother\b", low)


#: A question by its first words, whatever mark it ends with.
_QUESTION = re.compile(r"\W*(?:(?:and|so|also|but|oh|quick one),? )?(?:is there|are there|do (?:i|we|you|they)|does (?:it|that|this)|where|what(?:'s| is| do| time)|how (?:do|much|long|many|should)|should (?:i|we)|will (?:there|it|they))\b")


def _asks_on(low: str) -> bool:
    """Whether the last sentence is a question that a yes before it does not answer."""
    last = [piece for piece in re.split(r"(?<=[.!?])\s+|\n+", low.strip()) if piece.strip()][-1:]
    if last and _QUESTION.match(last[0]):
        return True
    return bool(last) and last[0].rstrip().endswith("?") and not re.search(r"\b(?:can|could) (?:you|u|we|i|it|they)\b|\bok(?:ay)?\?$|\bright\?$", last[0])


_ONLY_THANKS = re.compile(r"\W*(?:(?:ok(?:ay)?|oh|great|hi|hey|wow|ah|hmm+|aw+|thanks?|thank you|thx|ty|gracias|so much|a lot|much|again|see you|soon|then|good to know|got it|for that|xx?)\W*)+")


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


#: Words of the trade: without any, a question is between neighbours.
_TRADE = re.compile(
    r"\b(?:coo+k\w{1,4}|cookies?|biscuits?|bik+ies|galletas?|bak(?:e|es|ed|ing|er|ery)|orders?|ordering|dozens?|doz|dz|docenas?|pric\w+|precios?|costs?|charges?|quotes?|ship\w*|send|mail|env[ií]\w*|deliver\w*|flavou?rs?|sabores?|icing|iced|frost\w*|sugar\w*|az[uú]car|gluten|vegan\w*|nuts?|dairy|eggs?|allerg\w+|alergi\w+|boxe?s?|openings?|open|books?|booked|booking|available|availability|sell|selling|venden?|hacen?|hace|class(?:es)?|lessons?|workshops?|custom|designs?|decorat\w+|themes?|lead time|notice|minimums?|menu|halal|kosher|freez\w+|keep|cupcakes?|cakes?|kits?|treats?|desserts?|wedding|shower|party|birthday|favou?rs?|cumple\w*|boda|deposit|invoice|halloween|christmas|easter|valentine\w*|recipes?|ingredients?|hire|hiring|stall|market|fundrais\w+|donat\w+|sponsor\w*|tienes?|cuesta|cobras?|make|made|making)\b"
)
_SOCIAL = re.compile(
    r"\b(?:wrong (?:number|person|chat)|my bad|happy (?:new year|belated|birthday)|merry christmas|miss (?:you|u)|love (?:you|u|grand\w+|aunt\w*|mom|dad)"
    r"|see (?:you|u) (?:there|soon|tomorrow)|we still on|running (?:\w+ ){0,3}late|tell the kids|left on your (?:step|porch|doorstep)|a parcel for)\b"
)
BAKERY = re.compile(r"\b(?:cookies?|biscuits?|galletas?|dozen|doz|dz)\b")


def _chatty(low: str) -> bool:
    """Words between people who know each other, and nothing of baking or its price."""
    return bool(_SOCIAL.search(low)) and not BAKERY.search(low) and not _PRICE_Q.search(low)


def _wrong_person(found: Sequence[Found]) -> bool:
    """Whether the baker told the writer that he meant somebody else."""
    return any(f.turn.mine and re.search(r"\bwrong (?:number|person)\b", f.turn.low) for f in found)
