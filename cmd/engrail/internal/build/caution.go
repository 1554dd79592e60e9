package build

// cautions are what to mind when a machine cuts, with where it is from. They stand in
// the texts beside plots and calibration files.
func cautions() string {
	return `Before you start a machine
- Its manual, local rules and licensed practice come before anything here.
- Keep hands, hair and loose clothes clear of what moves, and try with a pen first, the
  blade no longer than needed. (common practice)
- Knives and rotary cutters: close the guard after every cut, keep fingers behind the
  ruler's edge, and lock blades away from children; wrap dead ones. (common practice)
- Lasers: never cut PVC, vinyl or coated imitation leather, which give off chlorine;
  polyester melts and burns; nylon, acetate and wool give off hydrogen cyanide. Extract
  the fumes and never leave the machine running alone. (laser safety pages of the
  University of Texas and of Kansas State University)
- Irons: a damp cloth over wool, and a trial on a scrap; synthetic cloth melts. (Nebraska
  4-H Clothing Leaflet 8, 1964; the trial is common practice)
`
}
