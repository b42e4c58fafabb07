"""Plays a film of the garden on a page: play, pause, a frame at a time."""

import base64

import ipywidgets as w

from gardenkit.drawing.film import Film
from gardenkit.notebook.page import Page, escaped

EACH = 320  # ms a frame stays. House value.


class Player:
    """A play button, a slider of the frames, and the picture it fills; ``page`` keeps what goes wrong."""

    def __init__(self, page: Page, picture: w.HTML) -> None:
        self.page, self.picture = page, picture
        self.film: Film | None = None
        self.play = w.Play(value=0, min=0, max=0, interval=EACH, description="play the film")
        self.bar = w.IntSlider(value=0, min=0, max=0, readout=False, layout=w.Layout(width="70%"))
        w.jslink((self.play, "value"), (self.bar, "value"))
        self.bar.observe(self.turned, "value")
        self.bar.add_class("gk-film-frame")
        self.widget = w.HBox([self.play, self.bar], layout=w.Layout(display="none"))

    def show(self, film: Film) -> None:
        """Show a film from its first frame, ready to be played."""
        self.film = film
        self.play.max = self.bar.max = len(film.frames) - 1
        self.bar.value = self.play.value = 0
        self.widget.layout.display = ""
        self.frame(0)

    def close(self) -> None:
        """Put the film away."""
        self.film = None
        self.widget.layout.display = "none"

    def turned(self, change: dict[str, int]) -> None:
        """Show the frame the slider stands at."""
        self.page.attempt(lambda: self.frame(change["new"]))

    def frame(self, number: int) -> None:
        """Show one frame with its words."""
        if self.film is None:
            return
        number = min(max(number, 0), len(self.film.frames) - 1)
        data = base64.b64encode(self.film.frames[number]).decode("ascii")
        words = escaped(f"{self.film.name}: {self.film.words[number]}")
        style = "width:100%;max-width:1000px;display:block"
        self.picture.value = f'<img alt="{words}" style="{style}" src="data:image/webp;base64,{data}"><p>{words}</p>'
