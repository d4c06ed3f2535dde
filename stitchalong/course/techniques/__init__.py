"""The techniques that keep their own account of their edge: how each is begun and worked.

The rule of each is a pure file of `fabric`; here it meets the plan and the course. `registry` lists them.
"""

from __future__ import annotations

from stitchalong.course.techniques.registry import begin, name_of, work
from stitchalong.course.techniques.told import as_closed

__all__ = ["as_closed", "begin", "name_of", "work"]
