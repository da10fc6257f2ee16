"""The program's own colors: a bench in the evening, and paper in daylight. Nothing is told by color alone."""

from textual.theme import Theme


def _bars(bar: str, ground: str) -> dict[str, str]:
    """Scrollbars that are seen without standing out."""
    behind = [f"scrollbar-background{state}" for state in ("", "-hover", "-active")]
    return dict.fromkeys(("scrollbar", "scrollbar-hover", "scrollbar-active"), bar) | dict.fromkeys(
        (*behind, "scrollbar-corner-color"), ground
    )


THEMES = (
    Theme(
        name="bench",
        primary="#c8a24a",
        secondary="#7f9a8b",
        accent="#8fb7c9",
        foreground="#e4dfd3",
        background="#16191a",
        surface="#1e2223",
        panel="#272c2d",
        success="#8db580",
        warning="#e0a458",
        error="#e2725b",
        dark=True,
        variables=_bars("#5c4f2e", "#16191a"),
    ),
    Theme(
        name="paper",
        primary="#6b5418",
        secondary="#48604f",
        accent="#255a73",
        foreground="#1c1c1a",
        background="#f7f4ec",
        surface="#efeadd",
        panel="#e3dccb",
        success="#3b6b2f",
        warning="#8a5200",
        error="#a12d1c",
        dark=False,
        variables=_bars("#c9bb96", "#f7f4ec"),
    ),
)
