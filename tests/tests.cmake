# SPDX-License-Identifier: MIT
# Test programs that are not unit tests.
add_executable(properties tests/properties/properties.c tests/properties/world.c)
target_include_directories(properties PRIVATE tests/properties)
target_link_libraries(properties PRIVATE ew_planner ew_rulebook ew_compute ew_model ew_base m)

add_executable(bench_plan EXCLUDE_FROM_ALL tests/bench/bench_plan.c)
target_link_libraries(bench_plan PRIVATE ew_planner ew_rulebook ew_compute ew_model ew_base m)
