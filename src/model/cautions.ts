/** Cautions, worded once, shown where the step happens: in the app, on the map page and in the README. */
export interface Caution {
  readonly topic:
    | 'costume'
    | 'adhesive'
    | 'dust'
    | 'heat'
    | 'blade'
    | 'machine'
    | 'wearing'
    | 'sight'
    | 'paint';
  readonly text: string;
}

/** Facts behind the wording: see README, "Cautions". Product labels, data sheets and local rules come first. */
export const cautions: readonly Caution[] = [
  {
    topic: 'costume',
    text: 'The finished shell is costume. It is not protective equipment and passes no safety test.',
  },
  {
    topic: 'adhesive',
    text: 'Contact adhesive gives off solvent vapour that harms and can catch fire: work outdoors or with real ventilation, no flames, and follow the label and the safety data sheet. A dust mask does not stop vapour.',
  },
  {
    topic: 'dust',
    text: 'Sanding and grinding foam makes fine dust: wear a particle mask and eye protection, and collect the dust.',
  },
  {
    topic: 'heat',
    text: 'A heat gun burns skin and makes foam fume when overheated: keep it moving, ventilate, stop before the foam browns.',
  },
  { topic: 'blade', text: 'Cut away from your hands with a sharp blade, in several light passes, on a mat.' },
  {
    topic: 'machine',
    text: 'Laser and hot wire: only foams whose data sheet allows it, never PVC or other chlorinated foam, with extraction, never unattended, and by the rules of the machine and the workshop.',
  },
  {
    topic: 'wearing',
    text: 'A helmet limits sight, hearing, breathing and cooling: leave openings for air and eyes, test with a helper, and take it off when it gets hot.',
  },
  {
    topic: 'sight',
    text: 'A visor blocks sight, most of all downwards and to the sides. Try it in card first, with a helper beside you; cut the eye slits as large as the look allows; lift it or take it off on steps, in crowds and near traffic.',
  },
  {
    topic: 'paint',
    text: 'Paint and sealer, most of all when sprayed, give off vapour and mist that harm and can catch fire: work outdoors or with real ventilation, no flames, and follow the label and the safety data sheet.',
  },
];
