"""`python -m stitchalong`."""

from __future__ import annotations

import sys

from stitchalong.cli import main

sys.exit(main())
