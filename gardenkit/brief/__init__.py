"""What the client wants: pictures, style and wants list."""
