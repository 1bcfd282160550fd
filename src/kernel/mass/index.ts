export { combine, type Inertia, inertiaAbout, moved, NOTHING, type RigidMass } from './rigid-mass.ts';
