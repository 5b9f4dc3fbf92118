"""What the screens are drawn with: block characters, the rows of a frame, and the one widget that paints them."""
