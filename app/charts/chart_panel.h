// SPDX-License-Identifier: GPL-3.0-or-later
// A chart with what stands above it: which picture of several, what a click does, "all of it", the
// table, the files, copying. Any place that shows a chart shows it in one of these.
#pragma once

#include "app/charts/chart.h"

#include <QPushButton>

#include <functional>

class QComboBox;
class QHBoxLayout;
class QLabel;
class QStackedWidget;

namespace keyround {

class ChartPanel final : public QWidget
{
    Q_OBJECT
public:
    /// The prefix goes before the names of the controls, where a place has two panels.
    explicit ChartPanel(const QString &prefix, QWidget *parent = nullptr);

    [[nodiscard]] Chart *chart() const { return m_chart; }
    /// The picture with the chosen item (-1: none) and what a click does.
    void show(const ChartPicture &picture, int item, const QString &hint);
    /// The pictures to choose from; fewer than two hide the list. Sends no signal.
    void setViews(const QStringList &views, int current);
    /// A widget in the place of the chart (a map over time) with the picture that is saved and
    /// copied; null brings the chart back.
    void setInstead(QWidget *widget, PictureView *view);
    /// The picture in sight shows its table, or no longer: by its own key.
    void tellTableShown(bool on);

Q_SIGNALS:
    void viewChosen(int view);
    void itemClicked(int item);
    void allWanted(); ///< the choice in the picture is to be taken back

private:
    QPushButton *addButton(const QString &words, const QString &name, const QString &tip);
    void buildFiles();
    void refreshFiles();
    void saveAs(const QString &ending, const QString &title, const QString &filter,
                const std::function<Status(const QString &)> &write);

    [[nodiscard]] QString nameOf(const char *name) const;

    QString m_prefix;
    QHBoxLayout *m_row;
    QComboBox *m_views;
    QLabel *m_hint;
    QPushButton *m_all;
    QPushButton *m_table;
    QList<QPushButton *> m_files;
    QStackedWidget *m_stack;
    Chart *m_chart;
    PictureView *m_view; ///< the picture in sight
};

} // namespace keyround
