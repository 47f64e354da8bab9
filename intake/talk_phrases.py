"""Ways of saying one thing: tables of patterns, a family a line. A pattern sees small letters and plain quotes; `<day>`,
`<past>`, `<count>`, `<money>`, `<who>` and `<hours>` stand in the places of what was named.
"""

from __future__ import annotations

import re

#: Contractions, and the ways in which they are typed.
SHORT = (
    (r"\b(what|who|where|when|how|that|it|there|here|everything|everyone|all)'?s\b", r"\1 is"),
    (r"\bwon'?t\b", "will not"),
    (r"\b(\w+)n't\b", r"\1 not"),
    (r"\b(do|did|does|has|have|is|was|are|should|would|could)nt\b", r"\1 not"),
    (r"\bcant\b", "can not"),
    (r"\b(i|we|you|they)'(?:m|ve|d|ll|re)\b", r"\1"),
    (r"\bim\b", "i"),
    (r"\b(she|he|who|that|it)'(?:s|d|ll)\b", r"\1"),
    (r"\blet'?s\b", ""),
    (r"\bwanna\b|\bgonna\b|\bgotta\b", ""),
)
#: Ways of saying one thing, as the word that stands for it. Worked through in this order.
#: What is begun with is said to be done, or asked: it sets nothing of an order.
BIDS = re.compile(r"^(?:please |can you |could you |pls )*(?:ask|tell|write|send|find|search|show|open|print|remind|look|answer|reply)\b")
PHRASES = (
    # Asking to have it done is doing it.
    (r"^(?:(?:so|ok|okay|hey|now|then|well|oh|and|yes|yep|right|oops|whoops|sorry|wait|alright|great|hm+) )+", ""),
    (r"^(?:please )?(?:remind|tell|show) me (?=what|when|who|where|how|why|which|if)|^do you (?:know|remember) (?=what|when|who|where|how|why|which)", ""),
    (r"\b(?:she|he|they) (?:has )?changed (?:her|his|their) minds?\b", ""),
    (r"\bre(?=price\b|quote\b)", ""),
    (r"\bfind out\b|\bcheck with (?:her|him|them)\b|\bfind from (?:her|him)\b", "ask"),
    (r"^(?:can|could|would|will) (?:you|u)(?: please)?(?! (?:do|help))\b", "please"),
    (r"\b(?:i|we) (?:want|need|would like|like|have) (?:you )?to (?=(?:price|book|confirm|drop|undo|block|ask|print|write)\b)", ""),
    (r"\bgo ahead(?: and)?\b", ""),
    (r"\bhow much (?:time|room|space)\b", "room"),
    (r"\b(?:work|works)(?= with\b| for (?:me|us)\b| \?|$)|\btime for\b(?= <| it| this| that| another| one)", "room"),
    (r"\bhow long (?:til|till|until|before)\b", "soon"),
    (r"\bhow (?:soon|early|quick(?:ly)?)\b|\bearliest\b|\bsoonest\b|\bfirst day\b|^(?:what|which) day\b(?! is| am| are| do i| do we)", "soon"),
    (r"\btoo (?:full|busy|booked(?: up)?|much)\b", "room"),
    (r"\bhow much\b", "howmuch"),
    (r"\bhow many\b", "howmany"),
    (r"\bhow (?:busy|full|packed|booked up)\b|\bam i (?:busy|free|full)\b|\bworkload\b", "load"),
    (r"\bhow old\b", "age"),
    (r"\bwhat (?:can|could|should|may|do) (?:you|i) (?:do|say|type|ask)(?: you| for me| here)?(?= \?|$)|\bcommands?\b", "help"),
    (r"\bhow come\b", "why"),
    # Days off and hours
    (r"\b(?:keep|leave|hold|set) (?:the )?(?=<day>)", "block "),
    (r"\bnot (?:be )?(?:working|baking|around|here|home|open|available)\b|\bno (?:baking|work|orders)\b|\bnot (?:give|plan|put) (?:me )?(?:any|anything)(?: work)?(?: on)?\b|\bout of town\b|\baway\b|\bon (?:vacation|holiday)\b|\bclosed?\b", "off"),
    (r"\b(?:which|what) days?(?: is| am| are| do i have| do we have)? .{0,12}\b(?:off|blocked)\b|\bdays? off\?|\bwhen (?:am|are) (?:i|we) off\b", "daysoff"),
    (r"\bunblock\b|\bnot off\b|\bafter all\b|\bas usual\b|\bback (?:at work|to work|on)(?= <day>)", "unblock"),
    (r"\bextra hours\b|\bmore hours\b|\bovertime\b|\badd hours\b", "hours"),
    # Back and forth
    (r"\b(?:take|put|turn|change) (?:it|that|this)?(?: all)? ?back\b|\btake back\b|\broll ?back\b|\brevert\b|\bundone\b|\bscratch that\b|\bgo back(?: one| a)?(?: step)?(?=$)", "undo"),
    (r"\bwrite back\b|\bget back to\b", "write"),
    (r"\bbring (?:it|this|that|her|him|the order)? ?back\b|\bre ?open\b|\bun ?drop\b|\brevive\b", "reopen"),
    (r"\bwhat did i (?:just )?(?:do|change)\b|\blast change\b|\bwhat would undo\b", "lastdone"),
    # The road of an order
    (r"\bwhat (?:to|should i|do i|am i|would i|can i) (?:charge|charging|ask(?:ing)?)(?= for| \?|$| her)\b|\bwhat (?:i|we) (?:charge|ask)\b", "price"),
    (r"\b(?:work|figure) (?:out )?(?:it |this |that )?(?:the )?(?:price|cost|total)(?: out)?\b|\b(?:put|give|set) (?:it |me )?(?:a |the )?price\b", "price"),
    (r"\b(?:put|hang|get|add) (?:it |this |that |her |them )?(?:up )?(?:on|in|to|onto|into) (?:the |my )?(?:rack|book|books|schedule|calendar)\b", "book"),
    (r"\bpencil (?:it|her|this|them)? ?in\b|\bbook(?:ed)? (?:it |her |this |them )?in\b|\block (?:it|this) in\b|\btake the order\b|\bit is a go\b", "book"),
    (r"\b(?:it|that|this|all|everything|they|those)(?: all)?(?: is| are)?(?: all)? (?:looks?|is|are) (?:all )?(?:good|right|fine|correct|ok)\b", "confirm"),
    (r"^(?:she |he |it |that |this |everything |all |the slip |yes )?(?:looks?|is) (?:good|right|fine|ok|correct)\b|\ball (?:good|right|correct|sure|true)\b|\bi (?:have )?(?:checked|looked)(?: it| at it)?\b", "confirm"),
    (r"\bthat (?:is )?(?:right|correct|fine)\b", "confirm"),
    (r"\b(?:set|put) (?:it|this|that|her|him|them)? ?aside\b|\bsnooze\b|\bnot now\b", "aside"),
    (r"\bthank (?:her|him|them|<who>)\b", "write thanks_"),
    (r"\bnever ?mind (?:about )?(?:it|this|that|the order|this order|her|this one)\b", "drop"),
    (r"\b(?:cross|strike) (?:it|this|that|this one|that one|this order|the order) (?:off|out)\b|\b(?:forget|throw|chuck|bin|toss|scrap|kill|ditch|remove|delete|get rid)(?: of)?(?: about)? (?:it|this|that|the order|this order|her order|this one|the whole (?:thing|order))(?: out| away)?\b", "drop"),
    (r"\bwill not (?:be making|make|do) (?:it|this)\b|\b(?:she|he|they) (?:is|are)? ?not (?:ordering|going ahead)\b|\bfell through\b", "drop"),
    (r"\b(?:take|accept|ok) (?:the |her |his |that |this )?change\b|\bas (?:she|he) asks\b", "accept"),
    (r"\b(?:keep|leave) (?:it|the order|this|that)? ?(?:as (?:it was )?booked|as it is|as it was)\b|\brefuse (?:the |her |his )?change\b|\bno change\b", "refuse"),
    # Money
    (r"\b(?:money|cash) (?:has |have )?(?:came|come) in(?= <|(?: so far)? this)", "takings"),
    (r"\b(?:give|gave|gives|pay|send|sent) (?:her|him|them|<who>)? ?(?:<money> |<count> )?(?:of it )?back\b|\brefund(?:ed)?\b|\breturn(?:ed)? (?=<)|\bsend back\b|\bgave (?:her|him|them) (?:back )?(?=<)", "refund"),
    (r"\b(?:has|have|did|does|is)(?: \w+)? (?:not|nobody|no) (?:been )?paid\b|\bnot (?:been )?paid\b|\bunpaid\b|\bowes? me\b|\bstill to pay\b|\boutstanding\b|\boverdue\b|\bhas not paid\b|\bowing\b", "unpaid"),
    (r"\b(?:behind|late|slow)(?: (?:on|with|in))?(?: (?:the |their |a )?(?:payments?|paying|money|pay))+", "unpaid"),
    (r"\bleft to pay\b|\bstill (?:to )?(?:owe|pay)\b|\bopen balance\b|\bbalance (?:is )?(?:due|left)\b", "owes"),
    (r"\b(?:get|got|had|have|come|came|arrive|arrived|received|take|took|send|sent|sends|transferred|wired|dropped off) (?=(?:me )?(?:the |a |her |his |my |their )?(?:money|deposit|balance|rest|payment|<money>))", "paid "),
    (r"\b(?:amount|money|deposit|balance|payment|rest) (?:was |is |has been )?(?:received|in my account|on my account)\b", "paid"),
    (r"\b(?:got|received) (?=<count>(?: cash| check| cheque| card| by| from| today|$))", "paid "),
    (r"(?<=<money>) (?:came|arrived|is here|is in|landed)(?: in)?\b|\b(?:deposit|balance|money|payment) (?:came|come|arrived|is here|is in|landed)(?: in)?\b", " paid"),
    (r"\b(?:paid|payed|pays|pay|sent the money|gave me|handed me|venmoed)\b", "paid"),
    (r"\b(?:did|have|has|do) (?:i|we) (?:make|made|earn|earned|take|took|taken|bring|brought|sell|sold)(?: in)?(?! (?:on|from|a day)\b)|\b(?:takings|turnover|income|sales)\b|\bin the till\b", "takings "),
    (r"\b(?:come|comes|add|adds|amount|amounts)(?: up)? to\b|\bset her back\b|\bthe damage\b|\bgo for\b", "price"),
    (r"\bi (?:earn|clear)\b|\bi (?:make|get) (?:on|from|out of|for)\b|\bmaking (?:any |some |enough |good )?money\b|\bworth it\b|\bprofit\b|\bmargin\b|\ban hour\b|\bper hour\b|\bcosts? me\b|\bwhat it costs\b|\bearns?\b", "earn"),
    # Handing over, making
    (r"\bpick(?:s|ed|ing)? (?:it |them |this |her order |the cookies )?up\b|\bcollect(?:s|ed|ing)?\b", "pickedup"),
    (r"\bhanded (?:it |them )?over\b|\bhand (?:it |them )?over\b|\bgave (?:it|them) to (?:her|him)\b|\b(?:she|he) has (?:it|them|the cookies)(?: now)?$|\bdelivered\b|\bdropped (?:it|them) off\b|\b(?:came and |has )?(?:got|grabbed|took|fetched|gotten) (?:it|them|hers|the cookies|the order)\b|\bshipped(?: it| them)? (?:out|off|today)\b", "handed"),
    (r"\b(?:is |all )?(?:packed|boxed|bagged)(?: up)?\b|\bready\b|\bfinished\b", "ready"),
    (r"\bnext step\b|\bstep on\b|\bmove it (?:on|along)\b", "stepon"),
    # Looking
    (r"\b(?:my|the) (?:day|morning|evening|afternoon|plan|schedule)(?: look(?:s|ing)?(?: like)?)?(?= <day>| \?|$)", "todo"),
    (r"\bwhat (?:is )?(?:next|now)\b|\bwhat should i (?:do|work on)(?: next| now| first)?\b|\bwhere (?:do|should) i start\b", "whatnext"),
    (r"\b(?:left |need |have |got )?to (?:do|bake|make|mix|ice|decorate|pack|finish|flood|cut|get done)\b|\bon (?:for )?(?=<day>.*\bbench\b)|\bagenda\b|\b(?:on )?(?:my|the) list(?: for)?\b|\bi (?:have|need|got) to (?:do|bake|make|mix|ice|decorate|pack)\b|\bbench\b|\bam i (?:doing|baking|making|icing|decorating)\b|\bdo i (?:do|bake|make|mix|ice|decorate|pack)\b|\bjobs?\b|\btodo\b", "todo"),
    (r"\b(?:need|have|got)? ?to (?:buy|shop|get|stock up)\b|\bshopping(?: list)?\b|\bdo i buy\b|\bdo i (?:need|have) (?:any|more|enough|some)\b|\bdo i need(?= \w+ \?$)|\b(?:enough|out of|low on)(?= \w+ \?$)|\bgroceries\b|\brunning low\b", "buy"),
    (r"\b(?:do|should|must) i (?:still )?(?:need to |have to )?(?:answer|reply|write back|get back)(?: to)?\b|\bneeds? an? (?:answer|reply|response)\b|\b(?:need|have|got) to (?:answer|reply)(?: to)?\b|\bunanswered\b|\bnot (?:i |been |yet )?(?:answered|replied)\b|\bnew messages?\b|\bwaits?\b|\bwaiting\b|\binbox\b|\bwrote\b|\bwhose turn\b|\bin line\b", "waiting"),
    (r"\b(?:old|past|earlier|previous|other|former) orders?\b|\b(?:a )?(?:regular|repeat|returning|new)(?: (?:customer|one|client))?(?= \?|$)", "before"),
    (r"\b(?:first|second|third) (?:order|time)(?= \?|$| from| with)", "before"),
    (r"\blast time\b|\bin the past\b|\bbefore\b|\bpreviously\b|\bhistory\b|\bused to\b|\busually (?:get|order)\b|\bthe usual\b", "before"),
    (r"\bgo(?:es|ing)? out\b|\bleav(?:e|es|ing)\b|\bcoming up\b|\bhand(?:ed)? overs?\b|\bpromised\b|\bon my plate\b|\bcommitted(?: to)?\b|\bscheduled\b|\blined up\b|\b(?:handing|hand) (?:it |them )?over\b|\b(?:shipping|sending) out\b|\bpickups\b", "due"),
    (r"\bin time\b|\bthe time\b|\benough (?:time|hours)\b|\bfits?\b(?= (?:it|this|that|in|them|another|<count>|\?)|$)|\bsqueeze\b|\bhave time\b|\bhandle\b|\bmanage\b|\bpossible\b|\bspace\b|\bcapacity\b|\bopenings?\b|\b(?:will|can|could) i make it\b(?= \?|$)", "room"),
    (r"\b(?:still )?(?:need|have|got) to (?:know|ask)\b|\bmissing\b|\bnot (?:been )?said\b|\bto check\b|\bunsure\b|\bopen questions?\b|\bnot (?:we |i |you )?know(?: yet)?\b|\bnot (?:they |she |he |been )?(?:told|said)\b", "openquestions"),
    (r"\bwhere (?:does|do|did) (?:the |this |that )?(?=<?\w+>? come from)|\bhow do you know\b|\bwhat makes you (?:think|say)\b|\bdid she (?:really )?say\b|\bwho says\b|\bwhere did (?:you|that|it) (?:get|read|see|find|come)\b|\breason\b", "why"),
    (r"\bcome from\b", ""),
    (r"\bwhere (?:does|do|is|are|will) (?:it|this|they|the order|we|she|things)(?: all)? (?:stand|at)\b|\bwhat (?:is )?(?:the )?(?:state|status|step|stage)\b|\bhow far\b|\bstatus\b", "state"),
    (r"\bis (?:it|this|that|she|hers|the order|this order|this one|<who>|<who> order) (?:all )?(?=(?:book|booked|confirmed|priced|ready|done|dropped|paid for)\b)", "state "),
    (r"\bwhere (?:does|do|should|is|will) (?:it|this|they|these|the parcel|the cookies|the order|that)?(?: be)? ?(?:go|going|sent|shipped|ship)(?: to)?\b", "address"),
    (r"\bwhat (?:is|are) (?:it|they|this|these) for\b|\bwhat is the party\b", "occasion"),
    (r"\bwho (?:is|are) (?:it|they|this|these) for\b|\bfor whom\b|\bwhose (?:birthday|party)\b", "honoree"),
    (r"\bpick ?up or (?:ship\w*|delivery?|post\w*)\b|\bship\w* or pick ?up\b|\bhow (?:does|do|will) (?:she|he|it|they) (?:get|leave|want)(?: it| them)?\b|\bhand ?over\b", "handover"),
)
CANON = {
    "orders": "order", "pickups": "due", "payment": "paid", "payments": "paid", "answered": "answer", "replied": "answer", "ordered": "order", "ordering": "order", "orderd": "order",
    "prices": "price", "pricing": "price", "quotes": "quote", "priced": "price", "cost": "price", "costs": "price",
    "total": "price", "charge": "price", "expensive": "price", "pricey": "price",
    "customers": "customer", "client": "customer", "clients": "customer",
    "owe": "owes", "owed": "owes", "owing": "owes",
    "asks": "ask", "asking": "ask",
    "confirmed": "confirm", "confirms": "confirm",
    "books": "book", "booking": "book", "booked": "booked",
    "drops": "drop", "dropped": "drop",
    "rooms": "room", "labels": "labels", "label": "labels",
    "blocked": "block", "blocks": "block",
    "cookie": "cookies", "biscuits": "cookies", "biscuit": "cookies",
    "needed": "due", "collections": "due",
    "everyone": "who", "anyone": "who", "anybody": "who", "people": "who", "somebody": "who", "someone": "who",
    "list": "show", "display": "show", "see": "show",
    "search": "find", "look": "find", "locate": "find",
    "prints": "print", "printed": "print", "draft": "write", "compose": "write", "send": "write", "make": "make",
    "reply": "answer", "respond": "answer", "replies": "answer",
    "thankyou": "thanks_", "tasks": "todo", "work": "work",
}  # fmt: skip
#: Free words: what is looked for, what is settled about a price.
FIND = (
    re.compile(
        r"^(?:please |can you |could you )*(?:find(?! out\b)|search|look(?:ing)?|locate)(?: me)?(?: for| up| through)?(?: the| an| a| all| every| that| my)?"
        r"(?: (?:messages?|orders?|conversation|thread|customer|ones?)(?: (?:about|with|from|for|that says?|where|who|saying|of)){1,2}(?: the)?)?"
        r" (?P<w>[^?]{2,80}?)(?: (?:orders?|ones?|messages?|conversations?|threads?|customers?))?\s*\??$"
    ),
    re.compile(r"^(?:where is|where did i put|show me|which is|open|pull up|bring up)(?: the| that)? (?P<w>[^?]{2,60}?) (?:orders?|conversation|thread|messages?|customer)\s*\??$"),
    re.compile(
        r"^(?:who|which (?:orders?|customers?|one)|what orders?|any(?:one|body)?|did any(?:one|body))(?: (?:has|have|had|is|was|were|of them))??"
        r" (?:(?:has|had|have)(?! not\b)|ask(?:ed|s)?(?: for| about)?|want(?:ed|s)?|mention(?:ed|s)?(?: having| a| an)?|said|says?|need(?:ed|s)?|order(?:ed|s)?|wrote about|with|about|like[ds]?|got)"
        r"(?: the| a| an| some| any)? (?P<w>[^?]{2,60}?)\s*\??$"
    ),
)
LEVEL = re.compile(r"\b(plain|simple|detailed|elaborate)\b")
WAY = {"ship": "ship", "shipped": "ship", "shipping": "ship", "parcel": "ship", "delivered": "deliver", "delivery": "deliver"}
HOW = re.compile(r"\b(cash|check|cheque|card|transfer|bank transfer|bank)\b")
_NUMBER = r"\d{1,5}(?:\.\d{1,2})?"
SETTLES = (
    re.compile(r"^(?:make (?:it|them|that) |it is |they are |call it |level )?(plain|detailed|elaborate)(?: ones| cookies| level)?[.!]?$"),
    re.compile(rf"^(?:it is |that is )?(?:about )?({_NUMBER} (?:miles?|mi|lbs?|pounds?)|\d{{1,4}} lettered|box {_NUMBER} ?x ?{_NUMBER} ?x ?{_NUMBER})(?: away| of them)?[.!]?$"),
    re.compile(rf"^((?:courtesy|discount|rush|extra|fee|tip|rebate|friends and family) [-+]? ?[$£€]?{_NUMBER})$"),
)
OFF = re.compile(rf"^(?:take|knock|give (?:her|him|them)) [$£€]?(?P<n>{_NUMBER})(?: dollars| bucks| euros?)? off(?: it| the price)?(?: (?:for|as) (?P<why>[a-z ]{{2,30}}))?[.!]?$")
