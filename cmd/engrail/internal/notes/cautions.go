package notes

// cautionsSection has what can hurt somebody, with the source of each.
func (s *sheet) cautionsSection() Section {
	return Section{"cautions", "Cautions", []Block{List{Items: []Item{
		{"Machines come first:", "the manuals of your sewing machine, iron and cutter, local rules and licensed practice come before anything in this sheet."},
		{"Irons:", "keep the iron on its heel and the cord out of the way. A damp cloth lies over wool; synthetic cloth melts and sticks, so try a scrap first. (Nebraska 4-H Clothing Leaflet 8, 1964; the trial is common practice)"},
		{"Needles and pins:", "keep fingers clear of the foot and eyes clear of a needle that may break: do not sew over pins. Switch the machine off when you change a needle, and count the pins when you are done. (common practice)"},
		{"Blades:", "close the guard of a rotary cutter after every cut, keep fingers behind the ruler's edge, cut away from yourself, and lock blades away from children. (common practice) Before you use a knife, think whether scissors would do; store it covered. (textiles pages of the UK Health and Safety Executive)"},
		{"Lasers:", "never cut PVC, vinyl or coated imitation leather, which give off chlorine; polyester melts and burns; nylon, acetate and wool give off hydrogen cyanide. Extract the fumes and never leave the machine running alone. (laser safety pages of the University of Texas and of Kansas State University)"},
		{"Children's clothes:", "drawstrings, small parts and flammability are regulated; follow the rules of your country. (in the United States 16 CFR 1120 and 1610, and 1615 and 1616 for sleepwear, Consumer Product Safety Commission; 16 CFR 1501 for small parts, from memory) Check that no pin stays in a hem."},
	}}}}
}
