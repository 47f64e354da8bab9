"""Every action of the screens, once: the keys, the key bar, the palette and the help are made from this table.

Keys are those that every terminal sends: F1 to F10, and ctrl with a letter. A letter alone is never a key: it is typed.
"""

from __future__ import annotations

from dataclasses import dataclass

from textual.binding import Binding, BindingType


@dataclass(frozen=True, slots=True)
class Action:
    """`name` is the screen's or the app's `action_<name>`; `bar` says where its key shows: top, foot or not at all.

    `stead` names the action whose key and place this one takes while it is what the key means. `brief` is its label
    where the bar has no room for the whole one.
    """

    name: str
    label: str
    keys: tuple[str, ...]
    says: str
    on: tuple[str, ...]
    bar: str = ""
    stead: str = ""
    brief: str = ""

    @property
    def key(self) -> str:
        """The key to show; empty for an action of the palette alone."""
        return shown_key(self.keys[0]) if self.keys else ""


COUNTER, RACK, BENCH, TILL, RULES, ANYWHERE = "counter", "rack", "bench", "till", "rules", "anywhere"

ACTIONS: tuple[Action, ...] = (
    Action("help", "Help", ("f1",), "this page: every key and what the signs mean", (ANYWHERE,), "top"),
    Action("new_message", "New", ("f2",), "paste or type a new message; again to go back", (COUNTER,), "foot"),
    Action("next_waiting", "Next", ("f3",), "the next conversation that waits for you", (COUNTER,), "foot"),
    Action("previous", "Previous", ("ctrl+b",), "back to the conversation before", (COUNTER,)),
    Action("confirm", "Confirm", ("f4",), "you have looked: every value on the slip is right", (COUNTER,), "foot"),
    Action(
        "take_change", "Take change", ("f4",), "a booked order: make it as the customer asks now", (COUNTER,), "foot",
        stead="confirm",
    ),
    Action("price", "Price", ("f5",), "work out the price from your house rules", (COUNTER,), "foot"),
    Action("room", "Room", ("f6",), "see whether your kitchen can make it in time", (COUNTER,), "foot"),
    Action("reply", "Reply", ("f7",), "the answer to send: read it, change it, copy it", (COUNTER,), "foot"),
    Action("book", "Book", ("f8",), "put the order on the Rack", (COUNTER,), "foot"),
    Action("step_on", "Next step", ("f4",), "dough, bake, flood, detail, pack: on to the next", (RACK,), "foot"),
    Action("hand_over", "Handed over", ("f8",), "the customer has the cookies", (RACK,), "foot"),
    Action("to_counter", "Conversation", ("f3",), "the order's own", (RACK, BENCH), "foot", brief="Talk"),
    Action("done", "Done", ("f4",), "tick the work off, on to the next; a ticked line: to do again", (BENCH,), "foot"),
    Action("begin", "Begun", ("f5",), "you are at it: nothing else is planned beside it", (BENCH,), "foot"),
    Action("month", "Month", ("f6",), "how full six weeks are, as a calendar", (BENCH,), "foot"),
    Action("day_off", "Day off", ("f7",), "take the day off, or have its usual hours again", (BENCH,), "foot"),
    Action("more_hours", "Hours", ("f8",), "add hours on this day alone", (BENCH,), "foot"),
    Action("paid", "Paid", ("f4",), "money has come: say how much and how", (TILL,), "foot"),
    Action("not_paid", "Not paid", ("f8",), "it tells of no payment: don't ask again", (TILL,), "foot", brief="Unpaid"),
    Action("give_back", "Give back", ("f5",), "money has gone back to the customer", (TILL,), "foot", brief="Back"),
    Action("remind", "Remind", ("f7",), "a word to the customer: read it, change it, copy it", (TILL,), "foot"),
    Action("conversation", "Conversation", ("f3",), "the order's own, at the Counter", (TILL,), "foot", brief="Talk"),
    Action("month_before", "Month before", ("f2",), "the till of the month before", (TILL,), "foot", brief="Before"),
    Action("month_after", "Month after", ("f6",), "the till of the month after", (TILL,), "foot", brief="After"),
    Action("ledger", "Ledger", ("ctrl+l",), "every payment as a file for your bookkeeping", (TILL,)),
    Action("keep_rules", "Keep", ("f4",), "put what you typed into the file of house rules", (RULES,), "foot"),
    Action(
        "go_counter", "Counter", ("f9",), "the Counter, where messages are answered", (RACK, BENCH, TILL, RULES), "top"
    ),
    Action("go_rack", "Rack", ("f9",), "the Rack, where booked orders hang by day", (COUNTER,), "top"),
    Action("go_bench", "Bench", ("ctrl+d",), "the Bench: the work of the days ahead", (COUNTER, RACK, TILL), "top"),
    Action("go_till", "Till", ("ctrl+y",), "the Till, where the money is", (COUNTER, RACK, BENCH), "top"),
    Action("undo", "Undo", ("f10",), "take back the last change", (COUNTER, RACK, BENCH, TILL, RULES), "foot"),
    Action("more", "More", ("ctrl+p",), "find any action by its name", (COUNTER, RACK, BENCH, TILL, RULES), "foot"),
    Action("settle", "Settle", ("ctrl+e",), "level, size, miles, or a line of your own in the price", (COUNTER,)),
    Action("cost", "Cost", ("ctrl+u",), "what the order costs you, and what an hour of it earns", (COUNTER,)),
    Action("payment", "Payment", ("ctrl+w",), "money has come for this order, or gone back", (COUNTER, RACK)),
    Action("search", "Search", ("ctrl+f",), "find a conversation by what was said in it", (COUNTER,)),
    Action("take", "Take in messages", ("ctrl+a",), "an export of messages: a file, a folder or a zip", (COUNTER,)),
    Action("outbox", "Outbox", (), "what went by mail, and what is not known to have gone", (COUNTER,)),
    Action("wording", "Wording", (), "the words of your answers: change them, see what they make", (COUNTER,)),
    Action(
        "read_it", "Read it", ("f4",), "an old conversation that was only kept: draft its orders", (COUNTER,), "foot",
        stead="confirm",
    ),
    Action("edit", "Change", ("ctrl+o",), "change the field you are on (Enter does the same)", (COUNTER,)),
    Action("who", "Who waits", ("ctrl+t",), "show or hide the list of who waits", (COUNTER,)),
    Action("other_slip", "Other slip", ("ctrl+n",), "where a conversation holds two", (COUNTER,)),
    Action("all_fields", "All fields", ("ctrl+l",), "show or hide the fields that are empty", (COUNTER,)),
    Action("refuse_change", "Keep as booked", ("ctrl+k",), "don't take the change; asks first", (COUNTER,)),
    Action("customer", "Customer", ("ctrl+x",), "her orders, likes, diet, birthdays; same again", (COUNTER, RACK)),
    Action("what", "Words are", (), "choose words of a message, and say which field they are", (COUNTER,)),
    Action("other_reading", "Other reading", (), "the right arrow: where words read two ways, the other", (COUNTER,)),
    Action("photos", "Photos", (), "open what is attached here, from where it was taken", (COUNTER,)),
    Action("same_customer", "Same customer", (), "say whether two with a like name are one person", (COUNTER,)),
    Action("set_aside", "Set aside", ("ctrl+g",), "off the list, until the customer writes again", (COUNTER,)),
    Action("drop", "Drop", ("ctrl+r",), "it won't be made; asks first; again to bring it back", (COUNTER, RACK)),
    Action("labels", "Labels", (), "labels for this order, to print; says what is missing", (RACK, BENCH)),
    Action("day_sheet", "Day sheet", (), "today, or the day chosen at the Bench, on paper to tick", (RACK, BENCH)),
    Action("batch", "Batches", (), "what to mix, cut, bake and pack in a week", (RACK, BENCH)),
    Action("shopping", "Shopping list", (), "what to buy for a week, less the pantry", (RACK, BENCH)),
    Action("calendar_file", "Calendar file", (), "hand-overs and bench sessions, for your calendar", (RACK, BENCH)),
    Action("go_rules", "House rules", (), "prices, hours, oven, wording", (COUNTER, RACK, BENCH, TILL)),
    Action("welcome", "Welcome", (), "the three questions of the first day: names, prices, hours", (COUNTER,)),
    Action("light", "Light or dark", (), "change between light and dark", (ANYWHERE,)),
    Action("quit", "Quit", ("ctrl+q",), "close; everything is already kept in the book", (ANYWHERE,), "top"),
)


def shown_key(key: str) -> str:
    """A key as a keyboard's owner names it: F4, ^q, c."""
    if key.startswith("ctrl+"):
        return f"^{key[5:]}"
    return key.upper() if key[0] == "f" and key[1:].isdigit() else key


def on(*screens: str) -> tuple[Action, ...]:
    return tuple(action for action in ACTIONS if set(action.on) & set(screens))


def bindings(screen: str) -> list[BindingType]:
    """The bindings of one screen, which come before a text box's own. A key that two actions share is the first's,
    which hands on to the one that takes its stead."""
    return [
        Binding(key, action.name, action.label, show=False, priority=True)
        for action in on(screen)
        if not action.stead
        for key in action.keys
    ]


def named(name: str) -> Action:
    """The action called `name`; raises KeyError."""
    for action in ACTIONS:
        if action.name == name:
            return action
    raise KeyError(name)
