export { openProject } from './open';
export { saveProject } from './save';
export { projectFormat, projectVersion } from './version';
