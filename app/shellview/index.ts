export { ShellCard } from './ShellCard';
