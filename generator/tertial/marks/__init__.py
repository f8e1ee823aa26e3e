"""What can be said of a bird's look and sound, and what two statements have in common.

The room works on plain values: it reads its own word lists, opens no entry and knows no guide, so
that every figure on a page can be computed again from the words alone.
"""
