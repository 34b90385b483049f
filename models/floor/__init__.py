"""What a person does with a garment at the press: each action checks the rules and is one stored tap."""
