-- The sound of takes, where a studio has turned that on.
alter table studios add column sound text;  -- null: off. Another random id each time that it is turned on
alter table studios add column sound_seq bigint not null default 0;
create table sounds (
  studio text not null references studios (id) on delete cascade,
  attempt text not null,
  student text not null,
  seq bigint not null,                    -- place among the sounds of the studio: the oldest makes room
  parts integer not null,                 -- how many there will be
  bytes bigint not null,                  -- of the parts that are here, with what a row costs
  gone boolean not null default false,    -- the attempt was deleted: nothing more is taken of it
  primary key (studio, attempt, student)
);
create index sounds_of_student on sounds (studio, student, seq);
create table sound_parts (
  studio text not null,
  attempt text not null,
  student text not null,
  part integer not null,
  key_id text not null,
  body bytea not null,
  primary key (studio, attempt, student, part),
  foreign key (studio, attempt, student) references sounds (studio, attempt, student) on delete cascade
);
