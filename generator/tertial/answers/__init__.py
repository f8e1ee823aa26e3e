"""What the commands answer about birds: each answer as text for a person and as JSON for a program.

Nothing here prints, reads a file or ends the program; ``cli`` does that with what it gets from here.
"""
