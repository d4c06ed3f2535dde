"""The full-screen front end (Textual)."""
