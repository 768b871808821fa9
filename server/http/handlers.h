/* SPDX-License-Identifier: MIT */
/* One function a route; each lives in h_<noun>.c. */
#ifndef EMBERWAIT_HTTP_HANDLERS_H
#define EMBERWAIT_HTTP_HANDLERS_H

struct http_request;
struct http_reply;

#define HTTP_HANDLER(name) void name(struct http_request *request, struct http_reply *reply)

HTTP_HANDLER(h_healthz);
HTTP_HANDLER(h_metrics);
HTTP_HANDLER(h_openapi);
HTTP_HANDLER(h_schema);
HTTP_HANDLER(h_static);
HTTP_HANDLER(h_company_get);
HTTP_HANDLER(h_company_put);
HTTP_HANDLER(h_station_hours);
HTTP_HANDLER(h_jobs_list);
HTTP_HANDLER(h_jobs_create);
HTTP_HANDLER(h_job_get);
HTTP_HANDLER(h_job_patch);
HTTP_HANDLER(h_records_list);
HTTP_HANDLER(h_records_add);
HTTP_HANDLER(h_job_plan);
HTTP_HANDLER(h_job_try);
HTTP_HANDLER(h_today);
HTTP_HANDLER(h_yard);
HTTP_HANDLER(h_changes);
HTTP_HANDLER(h_links_list);
HTTP_HANDLER(h_links_make);
HTTP_HANDLER(h_links_revoke);
HTTP_HANDLER(h_page_yard);
HTTP_HANDLER(h_page_today);
HTTP_HANDLER(h_page_pads);
HTTP_HANDLER(h_page_new_job);
HTTP_HANDLER(h_page_new_job_post);
HTTP_HANDLER(h_page_rules);
HTTP_HANDLER(h_page_try);
HTTP_HANDLER(h_page_rules_post);
HTTP_HANDLER(h_page_tonight);
HTTP_HANDLER(h_page_call_in);
HTTP_HANDLER(h_page_jobs);
HTTP_HANDLER(h_page_weeks);
HTTP_HANDLER(h_page_fires);
HTTP_HANDLER(h_page_dates);
HTTP_HANDLER(h_page_job);
HTTP_HANDLER(h_page_job_record);
HTTP_HANDLER(h_page_job_agree);
HTTP_HANDLER(h_take_over);
HTTP_HANDLER(h_page_take_over);
HTTP_HANDLER(h_page_take_over_post);
HTTP_HANDLER(h_page_job_link);
HTTP_HANDLER(h_page_tag);
HTTP_HANDLER(h_page_job_sheet);
HTTP_HANDLER(h_crew);
HTTP_HANDLER(h_crew_record);
HTTP_HANDLER(h_crew_sheet);
HTTP_HANDLER(h_home);
HTTP_HANDLER(h_sign_in_page);
HTTP_HANDLER(h_sign_in);
HTTP_HANDLER(h_sign_out);
HTTP_HANDLER(h_people);
HTTP_HANDLER(h_people_change);
HTTP_HANDLER(h_photo_put);
HTTP_HANDLER(h_photo_get);
HTTP_HANDLER(h_photos_list);
HTTP_HANDLER(h_crew_photo_put);
HTTP_HANDLER(h_crew_photo_get);
HTTP_HANDLER(h_feed);
HTTP_HANDLER(h_alarms_list);
HTTP_HANDLER(h_alarm_seen);
HTTP_HANDLER(h_crew_alarm_seen);
HTTP_HANDLER(h_jobs_csv);
HTTP_HANDLER(h_records_csv);
HTTP_HANDLER(h_import_csv);
HTTP_HANDLER(h_page_import);
HTTP_HANDLER(h_page_import_post);
HTTP_HANDLER(h_proof);
HTTP_HANDLER(h_letter);
HTTP_HANDLER(h_fire_sheet);
HTTP_HANDLER(h_tell);
HTTP_HANDLER(h_tell_send);

#undef HTTP_HANDLER

#endif
