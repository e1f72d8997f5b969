"""The check page: the same vectors as Python, and the page itself in a browser."""
