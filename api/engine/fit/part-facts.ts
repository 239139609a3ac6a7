export * from '../part-facts.ts';
