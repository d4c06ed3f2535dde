"""What all tables of a plan have in common."""

from __future__ import annotations

from typing import ClassVar

from pydantic import BaseModel, ConfigDict


class Table(BaseModel):
    model_config = ConfigDict(extra="forbid", strict=True)

    said: ClassVar[str] = ""
    """what a kind of work is called in messages: `an MRAW band`"""
