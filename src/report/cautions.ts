/**
 * What to mind before and while cutting, kept short so that it is read. Electric knives: Health and Safety Executive
 * (UK), "Fabric-cutting machinery", 2023 (cited from notes, not looked up again). The rest is common practice, no source.
 */
export const cautions: readonly string[] = [
  'This is an estimate. Check the lay on the cloth before the first cut: it knows no crooked ends, and no flaws but those in the cut list.',
  'Wash and press the cloth first if the garment will be washed, and measure its width again afterwards.',
  'Try the pieces on paper or in a toile first. If you cut from a print, print it at 100 % and measure it before cutting.',
  'Rotary cutter: close the blade each time, cut away from the body, other hand behind a guard, on a mat. Shears: pass them handles first.',
  'Electric knife: guard down to the top ply, fitted chain-mail glove, cable clear of the table, never left running, unplug it to change the blade.',
  'Keep fingers away from needles, count pins and needles, tie hair back. Switch irons off when you leave them; steam burns.',
  'Local rules and the makers’ instructions come first; leave wiring and machine repairs to a licensed tradesperson.',
];
