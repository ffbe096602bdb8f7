"""The press: views and a theme become bytes. It formats by language and words it; it computes nothing."""
