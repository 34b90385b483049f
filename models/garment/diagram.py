"""The diagram of the garment's cycle, made from its table: `python -m models.garment.diagram` prints it."""

from models.garment.cycle import BEFORE_HOLD, TRANSITIONS, State


def cycle_diagram() -> str:
    """The transition table as a Mermaid state diagram; events that leave the state as it is are left out."""
    lines = ["stateDiagram-v2", f"    [*] --> {State.IDLE.name}"]
    for state, events in TRANSITIONS.items():
        for kind, target in events.items():
            if target != state:
                lines.append(f"    {state.name} --> {_name(target)}: {kind.value}")
    return "\n".join(lines)


def _name(target: State | str) -> str:
    return "where_it_was" if target == BEFORE_HOLD else State(target).name


if __name__ == "__main__":
    print(cycle_diagram())
