"""What follows from a design where nobody wants to type it: slats, cross members, rails, upstands, stops."""
