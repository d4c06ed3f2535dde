"""The printed handout and charts."""
