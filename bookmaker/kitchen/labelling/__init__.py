"""What a label says by law: ingredient declaration, quantities, nutrition, diets, one module for each."""
