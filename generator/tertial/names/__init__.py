"""What a bird is called: alpha codes, scientific names and the shipped list of the world's birds.

Entries ask this room whether a name exists, which code it has and why, and whether a scientific
name is well formed. It knows nothing of guides and files, and imports nothing else of tertial.
"""
