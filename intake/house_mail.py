"""The house rules of the mail account that answers go out by. A password is no house rule: it is in the keyring."""

from __future__ import annotations

from typing import Literal

from pydantic import BaseModel, ConfigDict, Field


class MailPart(BaseModel):
    """`server` empty: answers are copied or written to a file. `port` 0 is the usual one of `security`."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    server: str = Field(default="", max_length=253, pattern=r"^[A-Za-z0-9.:-]*$")
    security: Literal["implicit", "starttls", "none"] = "implicit"
    port: int = Field(default=0, ge=0, le=65_535)
    user: str = Field(default="", max_length=254)
    address: str = Field(default="", max_length=254)
    from_name: str = Field(default="", max_length=120)
    seconds: int = Field(default=30, ge=1, le=300)
