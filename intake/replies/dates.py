"""Days and clock times in words, in English and Spanish, whatever the machine's locale."""

from __future__ import annotations

from datetime import date, time

from intake.model import Due

WEEKDAYS = {
    "en": ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"),
    "es": ("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo"),
}
MONTHS = {
    "en": (
        *("January", "February", "March", "April", "May", "June"),
        *("July", "August", "September", "October", "November", "December"),
    ),
    "es": (
        *("enero", "febrero", "marzo", "abril", "mayo", "junio"),
        *("julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"),
    ),
}


def day_words(day: date, language: str, *, year: bool = True) -> str:
    """`Friday, June 19, 2026`, `viernes 19 de junio de 2026`."""
    weekday, month = WEEKDAYS[language][day.weekday()], MONTHS[language][day.month - 1]
    if language == "es":
        return f"{weekday} {day.day} de {month}" + (f" de {day.year}" if year else "")
    return f"{weekday}, {month} {day.day}" + (f", {day.year}" if year else "")


def time_words(at: time, language: str) -> str:
    """`2 pm`, `2:30 pm`, `noon`; `las 2:30 p. m.`, `la 1:00 p. m.`."""
    hour = at.hour % 12 or 12
    if language == "es":
        return f"{'la' if hour == 1 else 'las'} {hour}:{at.minute:02} {'a. m.' if at.hour < 12 else 'p. m.'}"
    if at.minute == 0 and hour == 12:
        return "noon" if at.hour else "midnight"
    minutes = f":{at.minute:02}" if at.minute else ""
    return f"{hour}{minutes} {'am' if at.hour < 12 else 'pm'}"


def due_words(due: Due, language: str) -> str:
    """A day or a window with its clock time: `between Thursday, June 11 and Saturday, June 20, 2026`."""
    last = day_words(due.last, language)
    if not due.is_window:
        words = last
    else:
        first = day_words(due.first, language, year=due.first.year != due.last.year)
        words = f"entre el {first} y el {last}" if language == "es" else f"between {first} and {last}"
    if due.time is None:
        return words
    return f"{words} {'a' if language == 'es' else 'at'} {time_words(due.time, language)}"
