"""The second room: nodes to entries. One module a kind; no entry knows another."""
