"""The story stick, notched planks, edges and trim of a packet, as they come out on paper."""
