import { join } from 'node:path';
import { decoded, inFont, strengths } from './reading.ts';
import type { NoiseSource } from './reading.ts';

/** What the third look may learn from besides: a noise is seldom like another, so that it wants many. */
const wav = (name: string): string => `${name}.wav`;

export const HYDROGEN = '/usr/share/hydrogen/data/drumkits';
export const HAND = 'Gimme A Hand 1.0';
const [AFRICA, COLOMBO, PEARL, FORZEE, MILLO] = [
  'circAfrique v4',
  'ColomboAcousticDrumkit',
  'The Black Pearl 1.0',
  'ForzeeStereo',
  'Millo_MultiLayered2',
];
const MINETEST = '/usr/share/games/minetest/games/minetest_game/mods';
const GM_BANK = '/usr/share/sounds/sf2/sf_GMbank.sf2';
const ZEPPELIN = '/usr/share/sounds/sf2/Red_Zeppelin_4_LV2.sf2';
/** Recordings of one name, numbered. */
const takes = (name: string, count: number): string[] =>
  Array.from({ length: count }, (_, i) => `${name}.${i + 1}`);

export const MORE_SOURCES: Readonly<Record<string, NoiseSource>> = {
  'hydrogen-drumkits, more of them': {
    side: 'more',
    path: HYDROGEN,
    names: {
      body: [
        ...strengths(`${HAND}/CajonThumps`, 'Softest', 'Soft', 'Med', 'Hard').map(wav),
        ...strengths(`${HAND}/BongoLo`, 'Softest', 'Med', 'Hard').map(wav),
        ...[1, 2, 3, 4, 5].flatMap((n) => [`${AFRICA}/Djembe${n} Bass.wav`, `${AFRICA}/Djembe${n} Tone.wav`]),
        ...['Dununba1', 'Kenkeni1', 'Sangban1'].flatMap((drum) => [
          `${AFRICA}/${drum} Head Hit.wav`,
          `${AFRICA}/${drum} Head Mute.wav`,
        ]),
        ...[
          'bassdrum-4mics-br-stereo-soft2',
          'bassdrum-4mics-br-stereo-normal3',
          'tom-low-1',
          'tom-mid-1',
        ].map((name) => `${COLOMBO}/${name}.flac`),
        ...strengths(`${PEARL}/PearlKick`, 'Softest', 'Soft', 'Hard').map(wav),
        ...['Kick', 'TomLow', 'TomMid', 'TomHigh', 'SnareOff'].flatMap((drum) =>
          strengths(`${FORZEE}/${drum}`, '0', '2', '4').map(wav),
        ),
        ...['bd_01', 'bd_03', 'bd_05', 'floortom_01', 'floortom_04', 'tom_02'].map(
          (name) => `${MILLO}/${name}.flac`,
        ),
      ],
      tap: [
        ...strengths(`${HAND}/CajonSlaps`, 'Softest', 'Med', 'Hard').map(wav),
        ...strengths(`${HAND}/BongoHi`, 'Softest', 'Med', 'Hard').map(wav),
        ...strengths(`${HAND}/Fingersnap`, 'Soft', 'Hard').map(wav),
        ...strengths(`${HAND}/WoodBlock`, 'Softest', 'Hard').map(wav),
        ...strengths(`${HAND}/Clave`, 'Softest', 'Hard').map(wav),
        ...[1, 2, 3, 4, 5].map((n) => `${AFRICA}/Djembe${n} Slap.wav`),
        `${COLOMBO}/stick-rim-9.flac`,
        `${COLOMBO}/tom-hi-1.flac`,
        ...strengths(`${PEARL}/PearlSideStick`, 'Hard', 'Hardest').map(wav),
        ...['RimClick', 'SnareOffRim', 'AgogoLow'].flatMap((name) =>
          strengths(`${FORZEE}/${name}`, '0', '3').map(wav),
        ),
        ...strengths(`${FORZEE}/Stick`, '0', '3').map(wav),
        ...['clap_01', 'clap_03', 'rim_01', 'rim_04'].map((name) => `${MILLO}/${name}.flac`),
      ],
      rub: [
        ...strengths(`${HAND}/Maraca`, 'Softest', 'Med', 'Hard').map(wav),
        ...strengths(`${PEARL}/SabianHatSwish`, 'Softest', 'Med').map(wav),
        ...strengths(`${FORZEE}/Tambourine`, '0', '2').map(wav),
        ...strengths(`${FORZEE}/HiHatFoot`, '0', '2').map(wav),
        `${MILLO}/hhpedal_01.flac`,
      ],
    },
    read: (name) => decoded(join(HYDROGEN, name)),
  },
  // Steps on wood and earth, things put down, doors and chests: what a room does, and hands.
  'minetest-data': {
    side: 'more',
    path: MINETEST,
    names: {
      body: [
        ...takes('default/sounds/default_wood_footstep', 2),
        ...takes('default/sounds/default_hard_footstep', 3),
        ...takes('default/sounds/default_dirt_footstep', 2),
        ...takes('default/sounds/default_place_node_hard', 2),
        ...takes('default/sounds/default_dig_choppy', 3),
        'default/sounds/default_dig_dig_immediate',
        'default/sounds/default_dig_oddly_breakable_by_hand',
        'default/sounds/default_chest_close',
        'doors/sounds/doors_door_close',
        'doors/sounds/doors_fencegate_close',
        'doors/sounds/doors_steel_door_close',
        'default/sounds/player_damage',
      ],
      tap: [
        ...takes('default/sounds/default_place_node', 3),
        ...takes('default/sounds/default_dug_node', 2),
        ...takes('default/sounds/default_place_node_metal', 2),
        ...takes('default/sounds/default_dug_metal', 2),
        ...takes('default/sounds/default_metal_footstep', 3),
        ...takes('default/sounds/default_ice_footstep', 3),
        'default/sounds/default_glass_footstep',
        'default/sounds/default_dig_metal',
        'doors/sounds/doors_glass_door_close',
      ],
      rub: [
        ...takes('default/sounds/default_grass_footstep', 3),
        ...takes('default/sounds/default_gravel_footstep', 4),
        ...takes('default/sounds/default_gravel_dig', 2),
        ...takes('default/sounds/default_sand_footstep', 3),
        ...takes('default/sounds/default_snow_footstep', 5),
        'default/sounds/default_dig_crumbly',
        'default/sounds/default_dig_snappy',
        'default/sounds/default_chest_open',
        'doors/sounds/doors_door_open',
      ],
    },
    read: (name) => decoded(join(MINETEST, `${name}.ogg`)),
  },
  'csound-soundfont': {
    side: 'more',
    path: GM_BANK,
    names: {
      body: [
        ...['Taiko Drum', 'Acoustic Tom', 'Bass Drum New', 'M Bongo Tone', 'Quinto Tone', 'Low Tumba Tone'],
        ...['Timbale Strike', 'QuintoClosedSlap', 'Quica Downstroke', 'Quica Hi Tone'],
        ...['Guitar Slap', 'Punch', 'Door Slam', 'Step1oct'],
      ],
      tap: [
        ...['Wood Block', 'Drum Stick', 'Rim Shot', 'Claps 808ish', 'E Bongo Rim', 'Timbale Rimshot'],
        ...['Rosewood Claves', 'Castanets', 'Mute Triangle', 'Met Click', 'Filter Snap', 'Noise Slap'],
        ...['Guitar Click', 'Guitar Cut Up', 'Guitar Cut Down'],
      ],
      rub: [
        ...['FretNoise', 'Scratch', 'Cabasa', 'Maracas', 'Guiro Down', 'Guiro Up', 'Brass Tambourine'],
        ...['High Hat Foot', 'DoorCreak1oct'],
      ],
    },
    read: inFont(GM_BANK),
  },
  'avldrums.lv2-soundfont': {
    side: 'more',
    path: ZEPPELIN,
    names: {
      body: [
        ...strengths('36-Ludwig26Kick', '1', '3', '5'),
        ...strengths('45-Ludwig14Tom', '1', '3', '5'),
        ...strengths('41-Ludwig16FloorTo', '1', '3'),
      ],
      tap: [
        ...strengths('37-Sidestick2', '1', '3', '5'),
        ...strengths('39-HandClap', '1', '4'),
        ...strengths('47-Ludwig14TomEdge', '1', '4'),
        ...strengths('56-Cowbell', '1', '4'),
      ],
      rub: [
        ...strengths('44-SabianRockHatPe', '1', '3'),
        ...strengths('54-Tambourine', '1', '4'),
        ...strengths('64-Maraca', '1', '3', '5'),
      ],
    },
    read: inFont(ZEPPELIN),
  },
};
