package plot

// roundOff (distance, mm) is by how much a piece may pass the sheet's size and
// still fit: the rounding error of coordinates, far below any machine's step.
const roundOff = 1e-6
