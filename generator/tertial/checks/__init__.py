"""The checks: one function, one word, one line in a table (``every.py``, ``in_text.py``).

A check gets the whole guide and gives problems; it changes nothing and reads no file. What is
wrong inside one file alone is found while reading it and needs no check here. Every word, of checks
and of reading, is explained in ``words/``; a test fails on one that is not.
"""
