"""The phrases of replies in English and Spanish that are not in the templates. All of them reach the customer."""

from __future__ import annotations

import re
from collections.abc import Sequence

from intake.house import ReplyPart, default_house

LANGUAGES = ("en", "es")

SUBJECTS = {
    "en": {
        "ask": "A question about your cookies",
        "quote": "The price of your cookies",
        "confirm": "Your cookie order",
        "no_room": "Your cookies",
        "remind": "A word about your cookie order",
        "change": "Your cookie order, changed",
        "deposit": "Your payment for your cookies",
        "ready": "Your cookies are ready",
        "sent": "Your cookies are on their way",
        "thanks": "Thank you for your order",
        "cancelled": "Your cookie order is cancelled",
    },
    "es": {
        "ask": "Una pregunta sobre sus galletas",
        "quote": "El precio de sus galletas",
        "confirm": "Su pedido de galletas",
        "no_room": "Sus galletas",
        "remind": "Sobre su pedido de galletas",
        "change": "Su pedido de galletas, cambiado",
        "deposit": "Su pago por sus galletas",
        "ready": "Sus galletas están listas",
        "sent": "Sus galletas van en camino",
        "thanks": "Gracias por su pedido",
        "cancelled": "Su pedido de galletas queda cancelado",
    },
}

# For each field: asked with nothing to go on, with one reading to confirm, and with several to choose from.
QUESTIONS: dict[str, dict[str, tuple[str, str, str]]] = {
    "en": {
        "count": (
            "How many cookies would you like?",
            "Would you like {options} cookies?",
            "How many cookies would you like: {options}?",
        ),
        "theme": ("What theme or shapes would you like?", "Is the theme {options}?", "Which theme is it: {options}?"),
        "lettering": (
            "What should the lettering say, spelled exactly as you want it?",
            "Should the lettering say {options}, spelled exactly like that?",
            "Which lettering would you like: {options}?",
        ),
        "due": (
            "Which day do you need the cookies, and at what time?",
            "Is {options} the day you need the cookies?",
            "Which day do you need the cookies: {options}?",
        ),
        "window": ("", "Which day do you need the cookies, {options}?", ""),
        "due_is": ("", "Is {options} the day of your event, or the day you would like to have the cookies?", ""),
        "party": ("", "Your event is {options}. When before it would you like to have the cookies?", ""),
        "handover": (
            "Would you like to pick the cookies up, have them delivered, or have them shipped?",
            "Would you like to {options}?",
            "Would you like to {options}?",
        ),
        "address": ("What is the address they should go to?", "Is {options} the address?", "Which address: {options}?"),
        "dietary": (
            "Is there an allergy or a diet that I should know of?",
            "Do the cookies need to be {options}? Please tell me of any allergy.",
            "Do the cookies need to be {options}? Please tell me of any allergy.",
        ),
        "designs": ("Which designs would you like?", "Are these the designs: {options}?", "Which designs: {options}?"),
        "colors": ("Which colors would you like?", "Are these the colors: {options}?", "Which colors: {options}?"),
        "flavors": ("Which flavor would you like?", "Is the flavor {options}?", "Which flavor: {options}?"),
        "packaging": (
            "How should the cookies be packed?",
            "Would you like this packaging: {options}?",
            "Which packaging would you like: {options}?",
        ),
        "cancelled": ("", "Would you like to cancel this order, or keep it?", ""),
    },
    "es": {
        "count": ("¿Cuántas galletas desea?", "¿Desea {options} galletas?", "¿Cuántas galletas desea: {options}?"),
        "theme": ("¿Qué tema o qué figuras desea?", "¿El tema es {options}?", "¿Cuál es el tema: {options}?"),
        "lettering": (
            "¿Qué deben decir las letras, escrito exactamente como lo desea?",
            "¿Las letras deben decir {options}, escrito exactamente así?",
            "¿Qué letras desea: {options}?",
        ),
        "due": (
            "¿Qué día necesita las galletas, y a qué hora?",
            "¿Necesita las galletas el {options}?",
            "¿Qué día necesita las galletas: {options}?",
        ),
        "window": ("", "¿Qué día necesita las galletas, {options}?", ""),
        "due_is": ("", "¿El {options} es el día de su evento, o el día en que desea tener las galletas?", ""),
        "party": ("", "Su evento es el {options}. ¿Cuándo antes del evento desea tener las galletas?", ""),
        "handover": (
            "¿Desea recoger las galletas, que se las lleve, o que se las envíe?",
            "¿Desea {options}?",
            "¿Desea {options}?",
        ),
        "address": ("¿A qué dirección deben ir?", "¿La dirección es {options}?", "¿Cuál es la dirección: {options}?"),
        "dietary": (
            "¿Hay alguna alergia o dieta que yo deba conocer?",
            "¿Las galletas deben ser {options}? Por favor, avíseme de cualquier alergia.",
            "¿Las galletas deben ser {options}? Por favor, avíseme de cualquier alergia.",
        ),
        "designs": ("¿Qué diseños desea?", "¿Estos son los diseños: {options}?", "¿Qué diseños desea: {options}?"),
        "colors": ("¿Qué colores desea?", "¿Estos son los colores: {options}?", "¿Qué colores desea: {options}?"),
        "flavors": ("¿Qué sabor desea?", "¿El sabor es {options}?", "¿Qué sabor desea: {options}?"),
        "packaging": (
            "¿Cómo desea que vayan empacadas las galletas?",
            "¿Desea este empaque: {options}?",
            "¿Qué empaque desea: {options}?",
        ),
        "cancelled": ("", "¿Desea cancelar este pedido, o mantenerlo?", ""),
    },
}

HANDOVERS = {
    "en": {"pickup": "pick them up", "deliver": "have them delivered", "ship": "have them shipped"},
    "es": {"pickup": "recogerlas", "deliver": "que se las lleve", "ship": "que se las envíe"},
}

KNOWN = {
    "en": {
        "count": "{} cookies",
        "theme": "Theme: {}",
        "designs": "Designs: {}",
        "colors": "Colors: {}",
        "flavors": "Flavor: {}",
        "lettering": "Lettering: {}",
        "due": "Day: {}",
    },
    "es": {
        "count": "{} galletas",
        "theme": "Tema: {}",
        "designs": "Diseños: {}",
        "colors": "Colores: {}",
        "flavors": "Sabor: {}",
        "lettering": "Letras: {}",
        "due": "Día: {}",
    },
}

_PACKAGING_ES = {
    "individually bagged": "en bolsa individual",
    "heat sealed": "en bolsa sellada al calor",
    "ribbon": "cinta",
    "tags": "etiquetas",
    "gift box": "caja de regalo",
}

# What a kitchen would have to be free of, for each diet that is a matter of leaving something out.
_FREE_OF = {
    "en": {
        "nut-free": "nuts",
        "peanut-free": "peanuts",
        "gluten-free": "gluten",
        "dairy-free": "milk",
        "egg-free": "egg",
        "soy-free": "soy",
        "sesame-free": "sesame",
        "dye-free": "food dyes",
        "vegan": "milk, egg and other animal products",
    },
    "es": {
        "nut-free": "frutos secos",
        "peanut-free": "cacahuates",
        "gluten-free": "gluten",
        "dairy-free": "leche",
        "egg-free": "huevo",
        "soy-free": "soya",
        "sesame-free": "ajonjolí",
        "dye-free": "colorantes",
        "vegan": "leche, huevo y otros productos de origen animal",
    },
}
_DIETS_ES = {
    "nut-free": "sin frutos secos",
    "peanut-free": "sin cacahuates",
    "gluten-free": "sin gluten",
    "dairy-free": "sin lácteos",
    "egg-free": "sin huevo",
    "soy-free": "sin soya",
    "sesame-free": "sin ajonjolí",
    "dye-free": "sin colorantes",
    "vegan": "veganas",
}

_LABELS_ES = (
    (r"1 cookie, plain", "1 galleta, sencilla"),
    (r"1 cookie, detailed", "1 galleta, detallada"),
    (r"1 cookie, elaborate", "1 galleta, elaborada"),
    (r"(\d+) cookies, plain", r"\1 galletas, sencillas"),
    (r"(\d+) cookies, detailed", r"\1 galletas, detalladas"),
    (r"(\d+) cookies, elaborate", r"\1 galletas, elaboradas"),
    (r"1 mini cookie, (\w+)", r"1 galleta mini, \1"),
    (r"(\d+) mini cookies, (\w+)", r"\1 galletas mini, \2"),
    (r"1 large cookie, (\w+)", r"1 galleta grande, \1"),
    (r"(\d+) large cookies, (\w+)", r"\1 galletas grandes, \2"),
    (r"1 extra design", "1 diseño adicional"),
    (r"(\d+) extra designs", r"\1 diseños adicionales"),
    (r"1 extra color", "1 color adicional"),
    (r"(\d+) extra colors", r"\1 colores adicionales"),
    (r"Lettering on 1 cookie", "Letras en 1 galleta"),
    (r"Lettering on (\d+) cookies", r"Letras en \1 galletas"),
    (r"Individually bagged", "Bolsa individual"),
    (r"Heat sealed", "Bolsa sellada al calor"),
    (r"Ribbon", "Cinta"),
    (r"Tags", "Etiquetas"),
    (r"1 gift box", "1 caja de regalo"),
    (r"(\d+) gift boxes", r"\1 cajas de regalo"),
    (r"Shipping, 1 parcel", "Envío, 1 paquete"),
    (r"Shipping, (\d+) parcels", r"Envío, \1 paquetes"),
    (r"Delivery", "Entrega a domicilio"),
    (r"Rush", "Cargo por urgencia"),
    (r"Minimum order", "Pedido mínimo"),
    (r"Discount", "Descuento"),
    (r"Rounding", "Redondeo"),
    (r"Sales tax", "Impuesto sobre las ventas"),
)
_LEVELS_ES = {"plain": "sencillas", "detailed": "detalladas", "elaborate": "elaboradas"}

_ALLERGENS_ES = (
    "Hechas en una cocina casera que usa trigo, leche y huevo, y donde puede haber frutos secos y soya. "
    "Si alguien que las va a comer tiene una alergia, por favor hable conmigo antes."
)


def joined(parts: Sequence[str], language: str, *, either: bool = False) -> str:
    """`a, b and c`, or `a, b or c` for a choice; in Spanish `y` is `e` before an i sound, `o` is `u` before an o."""
    if len(parts) < 2:
        return "".join(parts)
    if language == "en":
        word = "or" if either else "and"
    else:
        sound = "h?[oó]|8|11(?!\\d)" if either else "h?[ií](?!e)"
        before = re.match(sound, parts[-1].casefold())
        word = ("u" if before else "o") if either else ("e" if before else "y")
    return f"{', '.join(parts[:-1])} {word} {parts[-1]}"


def greeting(rules: ReplyPart, name: str, language: str) -> str:
    """The house's greeting with the name in it; a greeting left at the default is put into the language."""
    text = rules.greeting
    if language == "es" and text == ReplyPart.model_fields["greeting"].default:
        text = "Hola {name},"
    return text.replace("{name}", name) if name else re.sub(r"\s*\{name\}", "", text)


def sign_off(rules: ReplyPart, language: str) -> str:
    if language == "es" and rules.sign_off == ReplyPart.model_fields["sign_off"].default:
        return "Gracias,"
    return rules.sign_off


def allergens(rules: ReplyPart, language: str) -> str:
    """The house's allergen caution, as the baker wrote it; her own words are never translated."""
    if language == "es" and rules.allergens == default_house().reply.allergens:
        return _ALLERGENS_ES
    return rules.allergens


def dietary_words(needs: Sequence[str], language: str) -> tuple[str, ...]:
    return tuple(_DIETS_ES.get(need, need) for need in needs) if language == "es" else tuple(needs)


def dietary_note(needs: Sequence[str], language: str) -> str:
    """What the customer asked for and what a home kitchen can't promise; an empty text where nothing was asked."""
    if not needs:
        return ""
    asked = joined(dietary_words(needs, language), language)
    known = _FREE_OF[language]
    free = joined([known[need] for need in needs if need in known], language)
    rest = joined([need for need in needs if need not in known], language)
    if language == "es":
        said = [f"Usted pidió: {asked}."]
        if free:
            said.append(f"No puedo prometer una cocina libre de {free}.")
        if rest:
            said.append(f"No puedo prometer una cocina que cumpla con lo que exige: {rest}.")
        return " ".join([*said, "Por favor, decida teniéndolo en cuenta."])
    said = [f"You asked for: {asked}."]
    if free:
        said.append(f"I can't promise a kitchen free of {free}.")
    if rest:
        said.append(f"I can't promise a kitchen that meets what this calls for: {rest}.")
    return " ".join([*said, "Please decide with that in mind."])


def packaging_words(kinds: Sequence[str], language: str) -> tuple[str, ...]:
    return tuple(_PACKAGING_ES.get(kind, kind) for kind in kinds) if language == "es" else tuple(kinds)


def _in_spanish(level: str, *, one: bool) -> str:
    words = _LEVELS_ES.get(level, level)
    return words.removesuffix("s") if one and level in _LEVELS_ES else words


def label_words(label: str, language: str) -> str:
    """The label of a price line in the language; a label that is not known stays as it is."""
    if language == "es":
        for pattern, words in _LABELS_ES:
            if found := re.fullmatch(pattern, label):
                *start, last = found.expand(words).rpartition(", ")
                return "".join(start) + _in_spanish(last, one=label.startswith("1 "))
    return label
