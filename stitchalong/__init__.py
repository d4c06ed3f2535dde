"""stitchalong counts along while somebody stitches geometric beadwork."""

__version__ = "0.1.0"
