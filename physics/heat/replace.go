package heat

// Replacement is an element of the network that stands in the place of that of the default: a conductance between two nodes, or the heat
// capacity of one.
type Replacement struct {
	Node, To string  // To is empty for a heat capacity
	Value    float64 // W/K of a conductance, J/K of a capacity
}

// BuildNodes are the nodes of a network of Build that an element may be typed for. The water outside is held and has no capacity of its own.
func BuildNodes() []string {
	return []string{
		NodeWater, NodeWinding, NodeEndTurns, NodeIron, NodeMagnets, NodeJacket, NodeBearings, NodeJunction, NodePlate, NodeCapacitor,
		NodePlateCoolant, NodeJacketCoolant, NodeCells, NodeAir, NodeMounts,
	}
}

// Replace puts an element into the network: a conductance in the place of that between its two nodes, whichever way round it stands and
// whatever law it has, or beside the others where there is none; a capacity in the place of its node's. Of a node that is not there nothing is done.
func (n *Network) Replace(r Replacement) {
	if r.To == "" {
		for i := range n.Nodes {
			if n.Nodes[i].Name == r.Node {
				n.Nodes[i].Capacity = r.Value
			}
		}
		return
	}
	for i := range n.Conductances {
		c := &n.Conductances[i]
		if c.From == r.Node && c.To == r.To || c.From == r.To && c.To == r.Node {
			*c = Conductance{Name: c.Name, From: c.From, To: c.To, Value: r.Value}
			return
		}
	}
	n.SetConductance(Conductance{Name: r.Node + " to " + r.To, From: r.Node, To: r.To, Value: r.Value})
}
