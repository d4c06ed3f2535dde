"""The line-by-line front end."""
