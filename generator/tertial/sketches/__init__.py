"""The room of pictures: what is published of a sketch or photo, and at which sizes."""
