"""The password of the mail account: from the environment, else from the system's keyring; never in a file of ours.

The one file that imports keyring.
"""

from __future__ import annotations

import os

from intake.model import OrdertinError

VARIABLE = "ORDERTIN_MAIL_PASSWORD"
_SERVICE = "ordertin mail"


def password_of(user: str, host: str) -> str:
    """The password of `user` at `host`. Raises OrdertinError where none is known."""
    if given := os.environ.get(VARIABLE):
        return given
    import keyring
    from keyring.errors import KeyringError

    try:
        kept = keyring.get_password(_SERVICE, f"{user} at {host}")
    except KeyringError:
        raise OrdertinError(
            "this machine's keyring can't be opened", where="mail", todo=f"Unlock it, or set {VARIABLE}"
        ) from None
    if not kept:
        raise OrdertinError(
            f"no password is known for {user} at {host}",
            where="mail",
            todo=f"Give it once: ordertin outbox --password; or set {VARIABLE}",
        )
    return kept


def keep_password(user: str, host: str, password: str) -> None:
    """Puts the password into the system's keyring. Raises OrdertinError where there is none."""
    import keyring
    from keyring.errors import KeyringError

    try:
        keyring.set_password(_SERVICE, f"{user} at {host}", password)
    except KeyringError:
        raise OrdertinError(
            "this machine has no keyring that can be written to", where="mail", todo=f"Set {VARIABLE} instead"
        ) from None
