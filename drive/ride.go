package drive

import "jetwright/physics/craft"

// AirDragArea is the usual range of a rider's drag area in air by posture; see craft.AirDragArea.
func AirDragArea(posture string) (low, high float64, ok bool) { return craft.AirDragArea(posture) }
