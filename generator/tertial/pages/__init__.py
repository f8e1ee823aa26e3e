"""One module per kind of page. Each gathers, as plain values, what its template needs.

No HTML is made here (that is ``layouts``' matter) and nothing about birds is computed (that is
``marks``' and ``names``'). Templates get tuples and strings, in the order in which they are read.
"""
